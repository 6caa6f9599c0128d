import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { FastifyPluginAsync } from 'fastify';
import { UNIT } from '../../rules/quantity.js';
import type { Review } from '../../rules/review/review.js';
import { widest } from '../../rules/review/window.js';
import { exportHeaderOfMany, exportLine } from './csv.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';

type Parts = Pick<AppParts, 'journal' | 'history' | 'desk'>;

/** Every reading of a review's channels over its 14 days, channel after channel, a few thousand lines at a time. */
async function* exported({ history, desk }: Parts, review: Review): AsyncGenerator<string> {
  const { zone } = desk.site().site.body;
  const { fromMs, toMs } = widest(review.windows.filter(({ name }) => name !== 'batch'));
  yield exportHeaderOfMany(zone);
  for (const { channelId, quantity } of review.channels) {
    for await (const rows of history.rows(channelId, fromMs, toMs)) {
      yield rows.map((row) => `${channelId},${UNIT[quantity]},${exportLine(row, zone)}`).join('');
    }
  }
}

const fileName = (id: string): string => `review-${id}-raw.csv`;

/** The raw readings of a review with their flags, and beside them the checksum that tells whether a copy is whole. */
export const reviewExportRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const words = { tag: 'reviews', needs: 'viewer', params: BY_ID } as const;
    app.get<{ Params: ById }>(
      '/reviews/:id/raw.csv',
      route({
        ...words,
        summary: 'Every reading of its channels: raw, value, flags (CSV, RFC 4180)',
        answer: { type: 'text/csv', description: 'UTF-8, lines end with CRLF, units in the second column' },
      }),
      async ({ params: { id } }, reply) => {
        const kept = parts.journal.reviews.byId(id);
        if (kept === undefined) return refuse(reply, 'no-such-review', { id });
        return reply
          .type('text/csv; charset=utf-8; header=present')
          .header('content-disposition', `attachment; filename="${fileName(id)}"`)
          .send(Readable.from(exported(parts, kept.review)));
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id/raw.csv.sha256',
      route({
        ...words,
        summary: 'The checksum file of the raw readings: `sha256sum --check` reads it',
        answer: { type: 'text/plain', description: 'SHA-256 in hexadecimal, two blanks, the name of the file' },
      }),
      async ({ params: { id } }, reply) => {
        const kept = parts.journal.reviews.byId(id);
        if (kept === undefined) return refuse(reply, 'no-such-review', { id });
        const hash = createHash('sha256');
        for await (const piece of exported(parts, kept.review)) hash.update(piece);
        return reply
          .type('text/plain; charset=utf-8')
          .header('content-disposition', `attachment; filename="${fileName(id)}.sha256"`)
          .send(`${hash.digest('hex')}  ${fileName(id)}\n`);
      },
    );
  };
