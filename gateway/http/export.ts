import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { parseChannelId } from '../../rules/channel.js';
import { exportHeader, exportLine } from './csv.js';
import { refuse } from './faults.js';
import { knowsChannel } from './known-channel.js';
import { MOMENT, parseSpan, type Span } from './moment.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { shape } from './schema/shape.js';

type Asked = { readonly from: string; readonly to: string };
const ASKED = shape<Asked>({ from: MOMENT, to: { ...MOMENT, description: `${MOMENT.description}; not included` } });
type Parts = Pick<AppParts, 'watchkeeper' | 'journal' | 'history' | 'desk'>;

/** Header, then some thousand lines at a time: a year of a channel never lies in memory. */
async function* exported({ history, desk }: Parts, id: string, { fromMs, toMs }: Span): AsyncGenerator<string> {
  const address = parseChannelId(id);
  if (address === undefined) throw new Error(`${id} is no channel`);
  const { zone } = desk.site().site.body;
  yield exportHeader(address.quantity, zone);
  for await (const rows of history.rows(id, fromMs, toMs)) {
    yield rows.map((row) => exportLine(row, zone)).join('');
  }
}

/** `l2.temperature-20300501T070000Z-20300502T070000Z.csv`: every character is safe in a file's name. */
const fileName = (id: string, { fromMs, toMs }: Span): string => {
  const moment = (atMs: number): string => new Date(atMs).toISOString().replace(/\.\d+/, '').replaceAll(/[-:]/g, '');
  return `${id.replaceAll(/[^a-z0-9.-]/g, '_')}-${moment(fromMs)}-${moment(toMs)}.csv`;
};

const checked = (parts: Parts, id: string, { from, to }: Asked, reply: FastifyReply): Span | FastifyReply => {
  if (!knowsChannel(parts, id)) return refuse(reply, 'no-such-channel', { id });
  const span = parseSpan(from, to);
  if (span.ok) return span.value;
  return refuse(reply, span.fault, { first: `“from” and “to” must each be ${MOMENT.description}.` });
};

const isSpan = (answer: Span | FastifyReply): answer is Span => 'fromMs' in answer;

/** Every reading of a channel with its flags, and beside it the checksum that tells whether a copy is whole. */
export const exportRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const words = { tag: 'channels', needs: 'viewer', params: BY_ID, querystring: ASKED } as const;
    app.get<{ Params: ById; Querystring: Asked }>(
      '/channels/:id/export.csv',
      route({
        ...words,
        summary: 'Every reading of a channel: raw, value, flags (CSV, RFC 4180)',
        answer: { type: 'text/csv', description: 'UTF-8, lines end with CRLF, units in the header' },
      }),
      async ({ params: { id }, query }, reply) => {
        const span = checked(parts, id, query, reply);
        if (!isSpan(span)) return span;
        return reply
          .type('text/csv; charset=utf-8; header=present')
          .header('content-disposition', `attachment; filename="${fileName(id, span)}"`)
          .send(Readable.from(exported(parts, id, span)));
      },
    );
    app.get<{ Params: ById; Querystring: Asked }>(
      '/channels/:id/export.csv.sha256',
      route({
        ...words,
        summary: 'The checksum file of an export: `sha256sum --check` reads it',
        answer: { type: 'text/plain', description: 'SHA-256 in hexadecimal, two blanks, the name of the file' },
      }),
      async ({ params: { id }, query }, reply) => {
        const span = checked(parts, id, query, reply);
        if (!isSpan(span)) return span;
        const hash = createHash('sha256');
        for await (const piece of exported(parts, id, span)) hash.update(piece);
        const name = fileName(id, span);
        return reply
          .type('text/plain; charset=utf-8')
          .header('content-disposition', `attachment; filename="${name}.sha256"`)
          .send(`${hash.digest('hex')}  ${name}\n`);
      },
    );
  };
