import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { ENTRY_KIND_NAMES, ENTRY_KINDS, type EntryKind } from '../../rules/log/entry.js';
import type { LogLine, NewEntry } from '../../rules/wire/log.js';
import { entryFaultSentence } from '../../rules/words/entry-fault.js';
import type { LogFault } from '../log-desk.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { logExportRoutes } from './log-export.js';
import { isAbout, lineOf, replacedIn } from './log-lines.js';
import { MOMENT, parseMoment } from './moment.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { ENTRY, LOG_LINE, schemaOf } from './schema/log.js';
import { type JsonSchema, listOf, optional, shape, slug, text, wordOf } from './schema/shape.js';

type Asked = {
  readonly from?: string;
  readonly to?: string;
  readonly place?: string;
  readonly kind?: EntryKind;
  readonly batch?: string;
};
const ASKED = shape<Asked>({
  from: optional({ ...MOMENT, description: `${MOMENT.description}; without it, seven days before the end` }),
  to: optional({ ...MOMENT, description: `${MOMENT.description}; not included; without it, now` }),
  place: optional(slug),
  kind: optional(wordOf(ENTRY_KIND_NAMES)),
  batch: optional(text(40)),
});

const WEEK_MS = 7 * 24 * 3_600_000;
/** A phone's clock may be ahead. */
const AHEAD_MS = 10 * 60_000;

type Parts = Pick<AppParts, 'journal' | 'log' | 'clock' | 'desk'>;

export const refuseEntry = (reply: FastifyReply, what: LogFault, { desk }: Pick<AppParts, 'desk'>): FastifyReply => {
  if (what.code === 'id-taken') return refuse(reply, 'entry-id-taken');
  const reader = desk.site().site.body;
  const faults = what.faults.map((each) => ({ pointer: each.pointer, detail: entryFaultSentence(each, reader) }));
  const code = what.code === 'corrected-meanwhile' ? 'entry-corrected-meanwhile' : 'entry-refused';
  return refuse(reply, code, { first: faults[0]?.detail ?? '' }, faults);
};

/** What people wrote down: added to, never changed. */
export const logRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const { journal, log, clock } = parts;
    const tag = 'log';
    const linesIn = ({ from, to, place, kind, batch }: Asked): readonly LogLine[] | undefined => {
      const toMs = to === undefined ? clock.now() + AHEAD_MS : parseMoment(to);
      const fromMs = from === undefined ? (toMs ?? 0) - WEEK_MS : parseMoment(from);
      if (fromMs === undefined || toMs === undefined || fromMs >= toMs) return undefined;
      const record = log.record();
      const replaced = replacedIn(record);
      const about = batch === undefined ? () => true : isAbout(record, batch);
      return journal.log
        .between(fromMs, toMs, place)
        .map((row) => lineOf(row, replaced))
        .filter(({ entry }) => (kind === undefined || entry.kind === kind) && about(entry));
    };
    app.get<{ Querystring: Asked }>(
      '/log',
      route({
        tag,
        needs: 'viewer',
        summary: 'Log entries in the order in which they happened, with what became of each',
        querystring: ASKED,
        answer: listOf(LOG_LINE),
      }),
      async ({ query }, reply) => linesIn(query) ?? refuse(reply, 'span-backwards'),
    );
    app.post<{ Body: NewEntry }>(
      '/log',
      route({
        tag,
        needs: 'crew',
        status: 201,
        summary: 'One entry, made and named (ULID) where it was written; sent twice, it is kept once',
        body: ENTRY,
        answer: LOG_LINE,
      }),
      async (request, reply) => {
        const written = log.write(request.body, callerOf(request).name);
        if (!written.ok) return refuseEntry(reply, written.fault, parts);
        const row = journal.log.byId(written.value.entry.id);
        if (row === undefined) throw new Error('An entry that was kept is not in the journal');
        return reply.code(written.value.isNew ? 201 : 200).send(lineOf(row, replacedIn(log.record())));
      },
    );
    app.get<{ Params: ById }>(
      '/log/:id',
      route({ tag, needs: 'viewer', summary: 'One entry', params: BY_ID, answer: LOG_LINE }),
      async ({ params: { id } }, reply) => {
        const row = journal.log.byId(id);
        return row === undefined ? refuse(reply, 'no-such-entry') : lineOf(row, replacedIn(log.record()));
      },
    );
    const kinds: JsonSchema = {
      type: 'object',
      additionalProperties: true,
      description: 'by kind, the JSON Schema of its fields',
    };
    app.get(
      '/log/kinds',
      route({ tag, needs: 'viewer', summary: 'Every kind of entry with the schema of its fields', answer: kinds }),
      async () => Object.fromEntries(ENTRY_KIND_NAMES.map((kind) => [kind, schemaOf(ENTRY_KINDS[kind].shape)])),
    );
    await app.register(logExportRoutes(parts));
  };
