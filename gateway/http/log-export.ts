import { createHash } from 'node:crypto';
import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { entryWords, type LogReader } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import type { LogEntry } from '../journal/log.js';
import { entryFrom } from '../log-desk.js';
import { csvLine } from './csv.js';
import { refuse } from './faults.js';
import { type Replaced, replacedIn } from './log-lines.js';
import { isoWithOffset, MOMENT, parseSpan, type Span } from './moment.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { shape } from './schema/shape.js';

type Asked = { readonly from: string; readonly to: string };
const ASKED = shape<Asked>({ from: MOMENT, to: { ...MOMENT, description: `${MOMENT.description}; not included` } });
type Parts = Pick<AppParts, 'journal' | 'log' | 'desk'>;

const HEADER = [
  'id',
  'happened',
  'recorded',
  'kind',
  'place',
  'place name',
  'batch',
  'by',
  'initials',
  'says',
  'note',
  'counts (1 yes, 0 no)',
  'corrects',
  'replaced by',
  'fields (JSON)',
  'photos (SHA-256)',
];

/** A spreadsheet must not take a person's words for a formula. */
const plain = (words: string): string => (/^[=+\-@\t\r]/.test(words) ? `'${words}` : words);

const lineOf = (row: LogEntry, replaced: Replaced, reader: LogReader): string => {
  const entry = entryFrom(row);
  const last = replaced.get(row.id);
  const batch = 'batchId' in entry.fields ? (entry.fields.batchId ?? '') : '';
  return csvLine([
    row.id,
    isoWithOffset(row.atMs, reader.zone),
    isoWithOffset(row.recordedMs, reader.zone),
    entryNames(reader).kind[entry.kind],
    row.placeId ?? '',
    plain(row.placeId === undefined ? '' : reader.placeName(row.placeId)),
    batch,
    plain(row.by),
    plain(entry.initials ?? ''),
    plain(entryWords({ ...entry, note: '' }, reader)),
    plain(entry.note ?? ''),
    last === undefined && entry.kind !== 'struck' ? 1 : 0,
    entry.corrects ?? '',
    last?.id ?? '',
    JSON.stringify(entry.fields),
    (entry.photos ?? []).join(' '),
  ]);
};

export const exportedLog = ({ journal, log, desk }: Parts, { fromMs, toMs }: Span): string => {
  const { site, places } = desk.site();
  const names = new Map(places.map(({ body }) => [body.id, body.name]));
  const reader: LogReader = { ...site.body, placeName: (id) => names.get(id) ?? id };
  const replaced = replacedIn(log.record());
  const rows = journal.log.between(fromMs, toMs).map((row) => lineOf(row, replaced, reader));
  return csvLine(HEADER) + rows.join('');
};

const nameOf = ({ fromMs, toMs }: Span): string => {
  const moment = (atMs: number): string => new Date(atMs).toISOString().replace(/\.\d+/, '').replaceAll(/[-:]/g, '');
  return `log-${moment(fromMs)}-${moment(toMs)}.csv`;
};

const spanIn = ({ from, to }: Asked, reply: FastifyReply): Span | FastifyReply => {
  const span = parseSpan(from, to);
  if (span.ok) return span.value;
  return refuse(reply, span.fault, { first: `“from” and “to” must each be ${MOMENT.description}.` });
};
const isSpan = (answer: Span | FastifyReply): answer is Span => 'fromMs' in answer;

/** The whole log of a span, corrected and corrections alike, and its checksum file. */
export const logExportRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const words = { tag: 'log', needs: 'viewer', querystring: ASKED } as const;
    app.get<{ Querystring: Asked }>(
      '/log/export.csv',
      route({
        ...words,
        summary: 'Every entry of a span, with what corrected it (CSV, RFC 4180)',
        answer: { type: 'text/csv', description: 'UTF-8, lines end with CRLF, units in the header' },
      }),
      async ({ query }, reply) => {
        const span = spanIn(query, reply);
        if (!isSpan(span)) return span;
        return reply
          .type('text/csv; charset=utf-8; header=present')
          .header('content-disposition', `attachment; filename="${nameOf(span)}"`)
          .send(exportedLog(parts, span));
      },
    );
    app.get<{ Querystring: Asked }>(
      '/log/export.csv.sha256',
      route({
        ...words,
        summary: 'The checksum file of an export of the log',
        answer: { type: 'text/plain', description: 'SHA-256 in hexadecimal, two blanks, the name of the file' },
      }),
      async ({ query }, reply) => {
        const span = spanIn(query, reply);
        if (!isSpan(span)) return span;
        const hash = createHash('sha256').update(exportedLog(parts, span)).digest('hex');
        return reply
          .type('text/plain; charset=utf-8')
          .header('content-disposition', `attachment; filename="${nameOf(span)}.sha256"`)
          .send(`${hash}  ${nameOf(span)}\n`);
      },
    );
  };
