import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Verb } from '../../rules/engine/happening.js';
import type { Role } from '../../rules/wire/api.js';
import type { Told } from '../watchkeeper-contract.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { MOMENT, parseMoment } from './moment.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, NO_BODY, route } from './route.js';
import { ALARM, REASON, type Reason, SHELVING, type Shelving } from './schema/alarm.js';
import { type JsonSchema, listOf, optional, shape, wordOf } from './schema/shape.js';

type Asked = { readonly state: 'open' | 'ended'; readonly from?: string; readonly to?: string };
const ASKED = {
  ...shape<Asked>({
    state: { ...wordOf(['open', 'ended']), default: 'open' },
    from: optional({ ...MOMENT, description: `${MOMENT.description}; of ended ones; without it, the last 7 days` }),
    to: optional(MOMENT),
  }),
  required: [],
};

const WEEK_MS = 7 * 24 * 3_600_000;

type Deed = {
  readonly method: 'POST' | 'DELETE';
  readonly path: string;
  readonly verb: Verb;
  readonly needs: Role;
  readonly body: JsonSchema;
  readonly summary: string;
};

/** What a person can do to an alarm: a verb of the life cycle for each address. */
const DEEDS: readonly Deed[] = [
  {
    method: 'POST',
    path: 'acknowledgement',
    verb: 'ack',
    needs: 'crew',
    body: NO_BODY,
    summary: 'I have seen it and am on it',
  },
  { method: 'POST', path: 'reset', verb: 'reset', needs: 'crew', body: NO_BODY, summary: 'A latched alarm is over' },
  {
    method: 'POST',
    path: 'shelving',
    verb: 'shelve',
    needs: 'crew',
    body: SHELVING,
    summary: 'Put it aside with a reason, never for more than 8 h; other than low priority only a manager',
  },
  { method: 'DELETE', path: 'shelving', verb: 'unshelve', needs: 'crew', body: NO_BODY, summary: 'Take it back' },
  {
    method: 'POST',
    path: 'out-of-service',
    verb: 'out-of-service',
    needs: 'manager',
    body: REASON,
    summary: 'Take it out of service for maintenance',
  },
  {
    method: 'DELETE',
    path: 'out-of-service',
    verb: 'return-to-service',
    needs: 'manager',
    body: NO_BODY,
    summary: 'Return it to service',
  },
];

const REFUSED = {
  'no-such-alarm': 'no-such-alarm',
  'already-done': 'alarm-already-done',
  'not-allowed-now': 'alarm-not-allowed-now',
} as const;

type Parts = Pick<AppParts, 'watchkeeper' | 'journal' | 'clock'>;

const endedIn = ({ journal, clock }: Parts, { from, to }: Asked): readonly AlarmPicture[] | undefined => {
  const toMs = to === undefined ? clock.now() + 1 : parseMoment(to);
  const fromMs = from === undefined ? (toMs ?? 0) - WEEK_MS : parseMoment(from);
  if (fromMs === undefined || toMs === undefined || fromMs >= toMs) return undefined;
  const open = new Set(journal.alarms.open().map(({ id }) => id));
  return journal.alarms.between(fromMs, toMs).filter(({ id }) => !open.has(id));
};

const pictureAfter = ({ watchkeeper, journal }: Parts, id: string, { changes }: Told): AlarmPicture | undefined => {
  const changed = changes.flatMap((change) =>
    change.kind === 'alarm' && change.alarm.id === id ? [change.alarm] : [],
  );
  return changed.at(-1) ?? watchkeeper.picture().alarms.find((alarm) => alarm.id === id) ?? journal.alarms.byId(id);
};

const answer = (parts: Parts, verb: Verb, request: FastifyRequest, reply: FastifyReply): FastifyReply => {
  const { id: alarmId } = request.params as ById;
  const { minutes, untilMs, reason } = (request.body ?? {}) as Partial<Shelving & Reason>;
  const atMs = parts.clock.now();
  const until = untilMs ?? (minutes === undefined ? undefined : atMs + minutes * 60_000);
  if (until !== undefined && until <= atMs)
    return refuse(reply, 'request-not-understood', { first: '“untilMs” lies in the past.' });
  const caller = callerOf(request);
  // [ISA-18.2] what may be put aside by whom is decided beforehand: crew only what can wait for the next round.
  const present = parts.watchkeeper.picture().alarms.find((alarm) => alarm.id === alarmId);
  if (verb === 'shelve' && present !== undefined && present.priority !== 'low' && caller.role !== 'manager')
    return refuse(reply, 'shelving-needs-manager');
  const told = parts.watchkeeper.tell({
    kind: 'answer',
    atMs,
    alarmId,
    verb,
    by: caller.name,
    ...(until === undefined ? {} : { untilMs: until }),
    ...(reason === undefined ? {} : { reason }),
  });
  if (told.refusal !== undefined) return refuse(reply, REFUSED[told.refusal.why]);
  return reply.send(pictureAfter(parts, alarmId, told));
};

/** Alarms that wait for somebody, those that ended, and what is done to them. */
export const alarmRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const tag = 'alarms';
    app.get<{ Querystring: Asked }>(
      '/alarms',
      route({ tag, needs: 'viewer', summary: 'Open or ended alarms', querystring: ASKED, answer: listOf(ALARM) }),
      async ({ query }, reply) => {
        if (query.state === 'open') return parts.watchkeeper.picture().alarms;
        return endedIn(parts, query) ?? refuse(reply, 'span-backwards');
      },
    );
    for (const { method, path, verb, needs, body, summary } of DEEDS) {
      const words = { tag, needs, summary, params: BY_ID, answer: ALARM, ...(method === 'POST' ? { body } : {}) };
      app.route({
        method,
        url: `/alarms/:id/${path}`,
        ...route(words),
        handler: async (request, reply) => answer(parts, verb, request, reply),
      });
    }
  };
