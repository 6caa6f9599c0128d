import type { FastifyPluginAsync, FastifyReply, FastifyRequest, RouteGenericInterface } from 'fastify';
import type { Source } from '../../rules/hatchery.js';
import { UNITS_UNDERSTOOD } from '../../rules/quantity.js';
import type { Result } from '../../rules/result.js';
import type { NameSource, NewCalibration, Role } from '../../rules/wire/api.js';
import { quantityName } from '../../rules/words/name.js';
import { type Caller, isAllowed } from '../access/caller.js';
import { buildSourcesDesk, type NameFault } from '../sources-desk.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_NUMBER, type ByNumber, type RouteWords, route } from './route.js';
import { CALIBRATION, NAME_SOURCE, NEW_CALIBRATION, SOURCE } from './schema/answer.js';
import { listOf } from './schema/shape.js';
import { refuseWrite } from './version.js';

type Parts = Pick<AppParts, 'journal' | 'desk' | 'watchkeeper' | 'clock'>;
type ToOne = RouteGenericInterface & { readonly Params: ByNumber };
type Done = (source: Source, caller: Caller) => Result<unknown, NameFault>;

/** Finds the source of the address, does something to it, and answers with what came of it. */
const doTo = ({ journal }: Parts, request: FastifyRequest<ToOne>, reply: FastifyReply, done: Done): FastifyReply => {
  const { id } = request.params;
  const source = journal.sources.byId(id);
  if (source === undefined) return refuse(reply, 'no-such-source', { id });
  const caller = callerOf(request);
  const result = done(source, caller);
  if (!result.ok) return refuseNaming(reply, result.fault, caller.role);
  return result.value === undefined ? reply.code(204).send() : reply.code(201).send(result.value);
};

/** Streams that boards send: what each means, and how its values are corrected. */
export const sourceRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const sources = buildSourcesDesk({
      journal: parts.journal,
      desk: parts.desk,
      watchkeeper: parts.watchkeeper,
      now: parts.clock.now,
    });
    app.get(
      '/sources',
      route({ tag, needs: 'viewer', summary: 'Every stream that was ever seen, named or not', answer: listOf(SOURCE) }),
      async () => sources.list(),
    );
    app.post<ToOne & { Body: NameSource }>('/sources/:id/mapping', route(NAMING), async (request, reply) =>
      doTo(parts, request, reply, (source, { name, role }) =>
        sources.name(source, request.body, { by: name, mayAddPlace: isAllowed(role, 'manager') }),
      ),
    );
    app.delete<ToOne>('/sources/:id/mapping', route(RELEASING), async (request, reply) =>
      doTo(parts, request, reply, (source, { name }) => sources.release(source, name)),
    );
    app.post<ToOne & { Body: NewCalibration }>('/sources/:id/calibration', route(CORRECTING), async (request, reply) =>
      doTo(parts, request, reply, (source, { name }) => sources.calibrate(source, request.body, name)),
    );
  };

const tag = 'sources';
const ofOne = { tag, needs: 'crew', params: BY_NUMBER } as const;
const NAMING: RouteWords = {
  ...ofOne,
  status: 201,
  summary: 'Name a source: which place and quantity it is, in which unit. A new place needs a manager',
  body: NAME_SOURCE,
  answer: SOURCE,
};
const RELEASING: RouteWords = { ...ofOne, summary: 'From now on the source means nothing' };
const CORRECTING: RouteWords = {
  ...ofOne,
  status: 201,
  summary: 'Correct a source from a moment on: slope × value + offset. Raw readings never change',
  body: NEW_CALIBRATION,
  answer: CALIBRATION,
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
