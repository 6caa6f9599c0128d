import { randomInt } from 'node:crypto';
import { gunzipSync } from 'node:zlib';
import type { FastifyPluginAsync } from 'fastify';
import { REVIEW_STARTS } from '../../rules/review/review.js';
import type { FrozenReview, NewReview, ReviewLine, SinceFrozen } from '../../rules/wire/review.js';
import type { Journal } from '../journal/journal.js';
import type { KeptReview } from '../journal/reviews.js';
import { gatherReview } from '../reviews/gather.js';
import { differencesOf, laterEdits } from '../reviews/later.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { reviewExportRoutes } from './review-export.js';
import { BY_ID, type ById, route } from './route.js';
import { ANSWER } from './schema/log.js';
import { atMs, type JsonSchema, listOf, optional, shape, slug, text, wordOf } from './schema/shape.js';

const NEW_REVIEW: JsonSchema = shape<NewReview>({
  start: wordOf(REVIEW_STARTS),
  entryId: optional(text(26)),
  tanks: { ...listOf(slug), maxItems: 200 },
  deadMs: optional(atMs),
  aliveMs: optional(atMs),
  remark: optional(text(2_000)),
  editionOf: optional(text(40)),
});

const LETTERS = 'abcdefghjkmnpqrstvwxyz23456789';

/** `20260714-k7qp`: by its day, and not to be mistaken for the day's next. */
const newId = (nowMs: number): string => {
  const day = new Date(nowMs).toISOString().slice(0, 10).replaceAll('-', '');
  return `${day}-${Array.from({ length: 4 }, () => LETTERS[randomInt(LETTERS.length)] ?? 'a').join('')}`;
};

const sinceFrozen = (journal: Journal, { review, sha256 }: KeptReview): SinceFrozen => ({
  sha256,
  later: laterEdits(journal, review),
  newer: journal.reviews
    .list()
    .flatMap(({ line, editionOf }) => (editionOf === review.id ? [line.id] : []))
    .reverse(),
});

type Parts = Pick<AppParts, 'journal' | 'history' | 'log' | 'desk' | 'clock' | 'watchkeeper'>;

/** What happened to a tank before deaths: frozen at a moment, at an address that stays. */
export const reviewRoutes =
  (parts: Parts): FastifyPluginAsync =>
  async (app) => {
    const { journal, clock } = parts;
    const tag = 'reviews';
    app.get(
      '/reviews',
      route({ tag, needs: 'viewer', summary: 'Every review, the newest first', answer: listOf(ANSWER) }),
      async (): Promise<readonly ReviewLine[]> => journal.reviews.list().map(({ line }) => line),
    );
    app.post<{ Body: NewReview }>(
      '/reviews',
      route({
        tag,
        needs: 'crew',
        summary: 'Freezes the record about tanks with deaths, from an entry or by hand',
        body: NEW_REVIEW,
        answer: ANSWER,
        status: 201,
      }),
      async (request, reply) => {
        const { editionOf } = request.body;
        if (editionOf !== undefined && journal.reviews.byId(editionOf) === undefined)
          return refuse(reply, 'no-such-review', { id: editionOf });
        const named = { id: newId(clock.now()), by: callerOf(request).name };
        const review = await gatherReview(parts, request.body, named);
        if (!review.ok) return refuse(reply, review.fault);
        const kept = journal.reviews.add(review.value);
        return reply.code(201).send({ ...kept, later: [], newer: [] } satisfies FrozenReview);
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id',
      route({ tag, needs: 'viewer', summary: 'A review as it was frozen', params: BY_ID, answer: ANSWER }),
      async ({ params: { id } }, reply) => {
        const kept = journal.reviews.byId(id);
        if (kept === undefined) return refuse(reply, 'no-such-review', { id });
        return { review: kept.review, ...sinceFrozen(journal, kept) } satisfies FrozenReview;
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id/since',
      route({
        tag,
        needs: 'viewer',
        summary: 'What was written or set about its tanks and time since it was frozen, and later editions',
        params: BY_ID,
        answer: ANSWER,
      }),
      async ({ params: { id } }, reply) => {
        const kept = journal.reviews.byId(id);
        return kept === undefined ? refuse(reply, 'no-such-review', { id }) : sinceFrozen(journal, kept);
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id/record',
      route({ tag, needs: 'viewer', summary: 'Only what was frozen, byte for byte', params: BY_ID, answer: ANSWER }),
      async ({ params: { id }, headers }, reply) => {
        const sealed = journal.reviews.sealed(id);
        if (sealed === undefined) return refuse(reply, 'no-such-review', { id });
        const etag = `"${sealed.sha256}"`;
        reply.header('etag', etag).header('cache-control', 'private, no-cache').header('vary', 'accept-encoding');
        if (headers['if-none-match'] === etag) return reply.code(304).send();
        reply.type('application/json; charset=utf-8');
        return String(headers['accept-encoding'] ?? '').includes('gzip')
          ? reply.header('content-encoding', 'gzip').send(sealed.gzip)
          : reply.send(gunzipSync(sealed.gzip));
      },
    );
    app.get<{ Params: ById }>(
      '/reviews/:id/differences',
      route({
        tag,
        needs: 'viewer',
        summary: 'What the record says now that it did not say when the review was frozen',
        params: BY_ID,
        answer: ANSWER,
      }),
      async ({ params: { id } }, reply) => {
        const kept = journal.reviews.byId(id);
        return kept === undefined ? refuse(reply, 'no-such-review', { id }) : differencesOf(parts, kept.review);
      },
    );
    await app.register(reviewExportRoutes(parts));
  };
