import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import type { Person, Way } from '../../rules/alerts/person.js';
import type { TriedBody } from '../../rules/wire/waking.js';
import type { WakingFault, Written } from '../alerts/writing.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { BY_ID, type ById, route } from './route.js';
import { listOf } from './schema/shape.js';
import { PERSON, PERSON_PICTURE, TRIED } from './schema/waking.js';
import { sendVersioned, versionIn } from './version.js';
import type { WakingRouteParts } from './waking-parts.js';

export const refuseWaking = (reply: FastifyReply, what: WakingFault): FastifyReply => {
  switch (what.code) {
    case 'version-changed':
      return refuse(reply.header('etag', `"${what.present}"`), what.code, { present: what.present });
    case 'no-such-person':
      return refuse(reply, what.code, { id: what.id });
    case 'request-not-understood':
      return refuse(reply, what.code, { first: what.first });
    case 'no-such-way':
      return refuse(reply, what.code, { way: what.way });
  }
};

export const sendWritten = <T>(reply: FastifyReply, done: Written<T>): FastifyReply =>
  done.ok ? sendVersioned(reply, done.value) : refuseWaking(reply, done.fault);

/** People who may be woken, their ways, and which of these really wake them. Their numbers are for managers and crew. */
export const personRoutes =
  ({ desk }: Pick<WakingRouteParts, 'desk'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    app.get(
      '/people',
      route({ tag, needs: 'crew', summary: 'Everybody who may be woken', answer: listOf(PERSON_PICTURE) }),
      async () => desk.people(),
    );
    app.put<{ Params: ById; Body: Person }>(
      '/people/:id',
      route({
        tag,
        needs: 'manager',
        summary: 'Somebody who may be woken; If-Match "0" for a new one',
        params: BY_ID,
        body: PERSON,
        answer: { ...PERSON, additionalProperties: true, required: [] },
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const person = { ...request.body, id: request.params.id };
        return sendWritten(reply, desk.putPerson(person, { by: callerOf(request).name, expectedVersion }));
      },
    );
    app.delete<{ Params: ById }>(
      '/people/:id',
      route({ tag, needs: 'manager', summary: 'Nobody is woken under this name any more', params: BY_ID }),
      async (request, reply) => {
        const { id } = request.params;
        return desk.removePerson(id, callerOf(request).name)
          ? reply.code(204).send()
          : refuse(reply, 'no-such-person', { id });
      },
    );
    app.put<{ Params: ById; Body: TriedBody & { readonly way: Way } }>(
      '/people/:id/tried',
      route({
        tag,
        needs: 'crew',
        summary: 'Did it ring through silent? The answer after a drill',
        params: BY_ID,
        body: TRIED,
        answer: { ...PERSON, additionalProperties: true, required: [] },
      }),
      async (request, reply) => {
        const { way, wakes } = request.body;
        return sendWritten(reply, desk.tried(request.params.id, way, wakes, callerOf(request).name));
      },
    );
  };
