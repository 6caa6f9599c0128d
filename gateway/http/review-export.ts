import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { FastifyPluginAsync } from 'fastify';
import { rawStandingLines } from '../../rules/words/raw-file.js';
import { buildRawStanding, rawFile } from '../reviews/raw-file.js';
import { refuse } from './faults.js';
import { isoWithOffset } from './moment.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';

type Parts = Pick<AppParts, 'journal' | 'history' | 'desk'>;

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
          .header('link', `</api/v1/reviews/${id}/raw.csv.sha256>; rel="describedby"`)
          .send(Readable.from(rawFile(parts, kept.review)));
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id/raw.csv.sha256',
      route({
        ...words,
        summary: 'The checksum file of the raw readings, and whether they still are what was frozen',
        answer: {
          type: 'text/plain',
          description:
            'SHA-256 in hexadecimal, two blanks, the name of the file; then comments that `sha256sum --check` passes over',
        },
      }),
      async ({ params: { id } }, reply) => {
        const kept = parts.journal.reviews.byId(id);
        if (kept === undefined) return refuse(reply, 'no-such-review', { id });
        const hash = createHash('sha256');
        const { see, standing } = buildRawStanding(kept.review);
        for await (const piece of rawFile(parts, kept.review, see)) hash.update(piece);
        const { zone } = parts.desk.site().site.body;
        const comments = rawStandingLines(standing(parts.journal), (atMs) => isoWithOffset(atMs, zone));
        return reply
          .type('text/plain; charset=utf-8')
          .header('content-disposition', `attachment; filename="${fileName(id)}.sha256"`)
          .send([`${hash.digest('hex')}  ${fileName(id)}`, ...comments.map((line) => `# ${line}`), ''].join('\n'));
      },
    );
  };
