import { createHash } from 'node:crypto';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { Review } from '../../rules/review/review.js';
import type { Database } from './database.js';

export type KeptReview = { readonly review: Review; readonly sha256: string };

/** Reviews as they were frozen. There is no way to change or remove one. */
export type Reviews = {
  add(review: Review): KeptReview;
  byId(id: string): KeptReview | undefined;
  /** The newest first. */
  list(): readonly KeptReview[];
};

type Row = { readonly body: Uint8Array; readonly sha256: string };

const sumOf = (text: string): string => createHash('sha256').update(text).digest('hex');

const reviewFrom = ({ body, sha256 }: Row): KeptReview => {
  const text = inflateRawSync(body).toString('utf8');
  if (sumOf(text) !== sha256) throw new Error('A frozen review is not as it was written: the journal is damaged');
  return { review: JSON.parse(text) as Review, sha256 };
};

export const buildReviews = (database: Database): Reviews => {
  const insert = database.prepare<[string, number, string, string, Uint8Array]>(
    'INSERT INTO review (id, frozen_ms, by, sha256, body) VALUES (?, ?, ?, ?, ?)',
  );
  const byId = database.prepare<[string], Row>('SELECT body, sha256 FROM review WHERE id = ?');
  const list = database.prepare<[], Row>('SELECT body, sha256 FROM review ORDER BY frozen_ms DESC, id');
  return {
    add: (review) => {
      const text = JSON.stringify(review);
      const sha256 = sumOf(text);
      insert.run(review.id, review.frozenMs, review.by, sha256, deflateRawSync(text));
      // As it will be read: what JSON leaves out is left out at once.
      return { review: JSON.parse(text) as Review, sha256 };
    },
    byId: (id) => {
      const row = byId.get(id);
      return row === undefined ? undefined : reviewFrom(row);
    },
    list: () => list.all().map(reviewFrom),
  };
};
