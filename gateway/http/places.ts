import type { FastifyInstance, FastifyPluginAsync } from 'fastify';
import type { Place } from '../../rules/place.js';
import { newPlace } from '../sources-desk.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { VERSIONED_PLACE } from './schema/answer.js';
import { NEW_PLACE, type NewPlace, PLACE } from './schema/place.js';
import { listOf, refTo } from './schema/shape.js';
import { refuseWrite, sendVersioned, versionIn } from './version.js';

type Parts = Pick<AppParts, 'desk'>;
const tag = 'places';

/** Tanks, supply lines and all else with water, air or power. A write names the version that it changes. */
export const placeRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    usePlaceReading(app, parts);
    usePlaceMaking(app, parts);
    usePlaceChanging(app, parts);
  };

const usePlaceReading = (app: FastifyInstance, { desk }: Parts): void => {
  app.get(
    '/places',
    route({ tag, needs: 'viewer', summary: 'Every place with its settings', answer: listOf(VERSIONED_PLACE) }),
    async () => desk.site().places,
  );
  app.get<{ Params: ById }>(
    '/places/:id',
    route({
      tag,
      needs: 'viewer',
      summary: 'One place; its version is the ETag',
      params: BY_ID,
      answer: VERSIONED_PLACE,
    }),
    async ({ params: { id } }, reply) => {
      const place = desk.place(id);
      return place === undefined ? refuse(reply, 'no-such-place', { id }) : sendVersioned(reply, place);
    },
  );
};

const usePlaceMaking = (app: FastifyInstance, { desk }: Parts): void => {
  app.post<{ Body: NewPlace }>(
    '/places',
    route({ tag, needs: 'manager', status: 201, summary: 'A new place', body: NEW_PLACE, answer: VERSIONED_PLACE }),
    async (request, reply) => {
      const { body } = request;
      const place = newPlace(
        desk.site().places.map((each) => each.body),
        body,
      );
      if (place === undefined) return refuse(reply, 'place-name-useless', { name: body.name });
      const done = desk.putPlace(place, { by: callerOf(request).name, expectedVersion: 0 });
      if (!done.ok) return refuseWrite(reply, done.fault);
      return sendVersioned(reply.code(201).header('location', `/api/v1/places/${place.id}`), done.value);
    },
  );
};

const usePlaceChanging = (app: FastifyInstance, { desk }: Parts): void => {
  app.put<{ Params: ById; Body: Place }>(
    '/places/:id',
    route({
      tag,
      needs: 'manager',
      summary: 'Change a place; If-Match holds the version that was seen',
      params: BY_ID,
      body: refTo(PLACE),
      answer: VERSIONED_PLACE,
    }),
    async (request, reply) => {
      const { id } = request.params;
      const expectedVersion = versionIn(request, reply);
      if (typeof expectedVersion !== 'number') return expectedVersion;
      if (desk.place(id) === undefined) return refuse(reply, 'no-such-place', { id });
      if (request.body.id !== id) {
        const faults = [
          { pointer: '/id', detail: `The id of a place never changes: it is “${id}”. The name may change.` },
        ];
        return refuse(reply, 'settings-conflict', { first: faults[0]?.detail ?? '' }, faults);
      }
      const done = desk.putPlace(request.body, { by: callerOf(request).name, expectedVersion });
      return done.ok ? sendVersioned(reply, done.value) : refuseWrite(reply, done.fault);
    },
  );
};
