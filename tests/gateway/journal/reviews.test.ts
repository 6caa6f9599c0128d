import { createHash } from 'node:crypto';
import { deflateRawSync, gunzipSync } from 'node:zlib';
import BetterSqlite3 from 'better-sqlite3';
import { expect, onTestFinished, test } from 'vitest';
import { MIGRATIONS } from '../../../gateway/journal/migrations/list.js';
import { buildReviews } from '../../../gateway/journal/reviews.js';
import type { Review } from '../../../rules/review/review.js';

const review = (id: string, more: Partial<Review> = {}): Review => ({
  ...{ id, start: 'by-hand', frozenMs: 5, by: 'Ines', sequence: 1, onset: { certainDeadMs: 4 } },
  ...{ windows: [], places: [], channels: [], work: [], alarms: [], lines: [], cannotSay: [] },
  tanks: [
    { placeId: 'n1', affected: true, batches: [], people: [], workDays: [] },
    { placeId: 'n2', affected: false, batches: [], people: [], workDays: [] },
  ],
  pattern: { affected: 1, of: 2, supplies: [], rivals: [] },
  firstMover: { order: [], together: [] },
  whole: { channels: [], calibrations: [], clocks: [], changes: [], putAside: [] },
  ...more,
});

const opened = () => {
  const database = new BetterSqlite3(':memory:');
  onTestFinished(() => void database.close());
  for (const { sql } of MIGRATIONS) database.exec(sql);
  return { database, reviews: buildReviews(database) };
};

const sumOf = (text: Uint8Array | string): string => createHash('sha256').update(text).digest('hex');

test('a review frozen by the first version is listed, read and sent like any other', () => {
  const { database, reviews } = opened();
  const text = JSON.stringify(review('old', { editionOf: 'first' }));
  database
    .prepare('INSERT INTO review (id, frozen_ms, by, sha256, body) VALUES (?, ?, ?, ?, ?)')
    .run('old', 5, 'Ines', sumOf(text), deflateRawSync(text));
  reviews.add(review('new', { frozenMs: 9 }));
  expect(reviews.list()).toEqual([
    { line: { id: 'new', start: 'by-hand', frozenMs: 9, by: 'Ines', onset: { certainDeadMs: 4 }, tanks: ['n1'] } },
    {
      line: { id: 'old', start: 'by-hand', frozenMs: 5, by: 'Ines', onset: { certainDeadMs: 4 }, tanks: ['n1'] },
      editionOf: 'first',
    },
  ]);
  expect(reviews.byId('old')?.review).toEqual(JSON.parse(text));
  const sealed = reviews.sealed('old');
  expect(sumOf(gunzipSync(sealed?.gzip ?? Buffer.alloc(0)))).toBe(sealed?.sha256);
});

test('a review that is not as it was written is not sent', () => {
  const { database, reviews } = opened();
  reviews.add(review('one'));
  database.prepare('UPDATE review SET sha256 = ? WHERE id = ?').run(sumOf('another'), 'one');
  expect(() => reviews.sealed('one')).toThrow('not as it was written');
});
