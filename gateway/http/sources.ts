import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { UNITS_UNDERSTOOD } from '../../rules/quantity.js';
import type { NameSource, NewCalibration, Role } from '../../rules/wire/api.js';
import { quantityName } from '../../rules/words/name.js';
import { isAllowed } from '../access/caller.js';
import { buildSourcesDesk, type NameFault } from '../sources-desk.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_NUMBER, type ByNumber, route } from './route.js';
import { CALIBRATION, NAME_SOURCE, NEW_CALIBRATION, SOURCE } from './schema/answer.js';
import { listOf } from './schema/shape.js';
import { refuseWrite } from './version.js';

/** Streams that boards send: what each means, and how its values are corrected. */
export const sourceRoutes =
  ({ journal, desk, clock }: Pick<AppParts, 'journal' | 'desk' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const sources = buildSourcesDesk({ journal, desk, now: clock.now });
    const tag = 'sources';

    app.get(
      '/sources',
      route({ tag, needs: 'viewer', summary: 'Every stream that was ever seen, named or not', answer: listOf(SOURCE) }),
      async () => sources.list(),
    );
    app.post<{ Params: ByNumber; Body: NameSource }>(
      '/sources/:id/mapping',
      route({
        tag,
        needs: 'crew',
        status: 201,
        summary: 'Name a source: which place and quantity it is, in which unit. A new place needs a manager',
        params: BY_NUMBER,
        body: NAME_SOURCE,
        answer: SOURCE,
      }),
      async (request, reply) => {
        const { id } = request.params;
        const source = journal.sources.byId(id);
        if (source === undefined) return refuse(reply, 'no-such-source', { id });
        const { name, role } = callerOf(request);
        const done = sources.name(source, request.body, { by: name, mayAddPlace: isAllowed(role, 'manager') });
        return done.ok ? reply.code(201).send(done.value) : refuseNaming(reply, done.fault, role);
      },
    );
    app.delete<{ Params: ByNumber }>(
      '/sources/:id/mapping',
      route({ tag, needs: 'crew', summary: 'From now on the source means nothing', params: BY_NUMBER }),
      async (request, reply) => {
        const { id } = request.params;
        const source = journal.sources.byId(id);
        if (source === undefined) return refuse(reply, 'no-such-source', { id });
        const done = sources.release(source, callerOf(request).name);
        return done.ok ? reply.code(204).send() : refuseNaming(reply, done.fault, callerOf(request).role);
      },
    );
    app.post<{ Params: ByNumber; Body: NewCalibration }>(
      '/sources/:id/calibration',
      route({
        tag,
        needs: 'crew',
        status: 201,
        summary: 'Correct a source from a moment on: slope × value + offset. Raw readings never change',
        params: BY_NUMBER,
        body: NEW_CALIBRATION,
        answer: CALIBRATION,
      }),
      async (request, reply) => {
        const { id } = request.params;
        const source = journal.sources.byId(id);
        if (source === undefined) return refuse(reply, 'no-such-source', { id });
        const done = sources.calibrate(source, request.body, callerOf(request).name);
        return done.ok ? reply.code(201).send(done.value) : refuseNaming(reply, done.fault, callerOf(request).role);
      },
    );
  };

const refuseNaming = (reply: FastifyReply, what: NameFault, role: Role): FastifyReply => {
  switch (what.code) {
    case 'unit-not-understood': {
      const { unit, quantity } = what;
      const known = Object.keys(UNITS_UNDERSTOOD[quantity]).join(', ');
      return refuse(reply, what.code, { unit, quantity: quantityName(quantity), known });
    }
    case 'no-such-place':
      return refuse(reply, what.code, { id: what.id });
    case 'place-name-useless':
      return refuse(reply, what.code, { name: what.name });
    case 'source-not-named':
      return refuse(reply, what.code, { id: what.id });
    case 'role-too-low':
      return refuse(reply, what.code, { needs: 'manager', role });
    default:
      return refuseWrite(reply, what);
  }
};
