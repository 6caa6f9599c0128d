import { createHash } from 'node:crypto';
import { gunzipSync, gzipSync, inflateRawSync } from 'node:zlib';
import type { Review } from '../../rules/review/review.js';
import type { ReviewLine } from '../../rules/wire/review.js';
import type { Database } from './database.js';

export type KeptReview = { readonly review: Review; readonly sha256: string };

/** A review's text as it was frozen, compressed with gzip: it is sent as it lies here. */
export type SealedReview = { readonly gzip: Buffer; readonly sha256: string };

export type ListedReview = { readonly line: ReviewLine; readonly editionOf?: string };

/** Reviews as they were frozen. There is no way to change or remove one. */
export type Reviews = {
  add(review: Review): KeptReview;
  byId(id: string): KeptReview | undefined;
  sealed(id: string): SealedReview | undefined;
  /** The newest first. */
  list(): readonly ListedReview[];
};

type Row = { readonly body: Buffer; readonly sha256: string };

const sumOf = (text: Uint8Array | string): string => createHash('sha256').update(text).digest('hex');

/** The first two bytes of gzip; no run of bare deflate, as the first reviews were kept, begins with them. */
const isGzip = (body: Buffer): boolean => body[0] === 0x1f && body[1] === 0x8b;

const textOf = ({ body, sha256 }: Row): Buffer => {
  const text = isGzip(body) ? gunzipSync(body) : inflateRawSync(body);
  if (sumOf(text) !== sha256) throw new Error('A frozen review is not as it was written: the journal is damaged');
  return text;
};

const reviewFrom = (row: Row): KeptReview => ({
  review: JSON.parse(textOf(row).toString('utf8')) as Review,
  sha256: row.sha256,
});

const listed = ({ id, start, frozenMs, by, onset, tanks, editionOf }: Review): ListedReview => ({
  line: {
    ...{ id, start, frozenMs, by, onset },
    tanks: tanks.filter(({ affected }) => affected).map(({ placeId }) => placeId),
  },
  ...(editionOf === undefined ? {} : { editionOf }),
});

export const buildReviews = (database: Database): Reviews => {
  const insert = database.prepare<[string, number, string, string, Uint8Array, string]>(
    'INSERT INTO review (id, frozen_ms, by, sha256, body, line) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const rowOf = database.prepare<[string], Row>('SELECT body, sha256 FROM review WHERE id = ?');
  const list = database.prepare<[], { readonly id: string; readonly line: string | null }>(
    'SELECT id, line FROM review ORDER BY frozen_ms DESC, id',
  );
  const byId = (id: string): KeptReview | undefined => {
    const row = rowOf.get(id);
    return row === undefined ? undefined : reviewFrom(row);
  };
  return {
    add: (review) => {
      const text = JSON.stringify(review);
      const sha256 = sumOf(text);
      insert.run(review.id, review.frozenMs, review.by, sha256, gzipSync(text), JSON.stringify(listed(review)));
      // As it will be read: what JSON leaves out is left out at once.
      return { review: JSON.parse(text) as Review, sha256 };
    },
    byId,
    sealed: (id) => {
      const row = rowOf.get(id);
      if (row === undefined) return undefined;
      const text = textOf(row);
      return { gzip: isGzip(row.body) ? row.body : gzipSync(text), sha256: row.sha256 };
    },
    list: () =>
      list.all().flatMap(({ id, line }) => {
        if (line !== null) return [JSON.parse(line) as ListedReview];
        const kept = byId(id);
        return kept === undefined ? [] : [listed(kept.review)];
      }),
  };
};
