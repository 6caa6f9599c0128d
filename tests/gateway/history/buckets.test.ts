import { describe, expect, test } from 'vitest';
import { bucketMsFor } from '../../../gateway/history/buckets.js';
import { reasonedParts } from '../../../gateway/history/reasons.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

describe('the length of a bucket', () => {
  const cases: readonly (readonly [span: string, fromMs: number, toMs: number, points: number, expected: number])[] = [
    ['an hour in 60', 0, HOUR_MS, 60, MINUTE_MS],
    ['an hour in 59', 0, HOUR_MS, 59, 2 * MINUTE_MS],
    ['an hour that begins at half a minute, in 60', 30_000, HOUR_MS + 30_000, 60, 2 * MINUTE_MS],
    ['a day in 48', 0, DAY_MS, 48, HOUR_MS / 2],
    ['a day in 47', 0, DAY_MS, 47, HOUR_MS],
    ['a year in 2,000', 0, 365 * DAY_MS, 2_000, 5 * HOUR_MS],
    ['a day in one', 0, DAY_MS, 1, DAY_MS],
    [
      'two hours around midnight in one: the first step with both in one bucket',
      DAY_MS - HOUR_MS,
      DAY_MS + HOUR_MS,
      1,
      5 * HOUR_MS,
    ],
  ];
  test.each(cases)('%s', (_, fromMs, toMs, points, expected) => {
    expect(bucketMsFor({ fromMs, toMs }, points)).toBe(expected);
  });
});

describe('the reason of a silence', () => {
  const silence = { fromMs: 0, toMs: 10 * MINUTE_MS };
  const gateway = (fromMs: number, toMs: number) => ({ reason: 'gateway-down', spans: [{ fromMs, toMs }] }) as const;

  test('is the board where nothing else is known', () => {
    expect(reasonedParts(silence, [], MINUTE_MS)).toEqual([{ ...silence, reason: 'board-silent' }]);
  });

  test('a part too short to be a gap goes to its longer neighbour', () => {
    const parts = reasonedParts(silence, [gateway(MINUTE_MS / 2, 9.5 * MINUTE_MS)], MINUTE_MS);
    expect(parts).toEqual([{ ...silence, reason: 'gateway-down' }]);
    expect(reasonedParts(silence, [gateway(4 * MINUTE_MS, 4.5 * MINUTE_MS)], MINUTE_MS)).toEqual([
      { ...silence, reason: 'board-silent' },
    ]);
  });

  test('of two reasons for one moment the first is given', () => {
    const broker = { reason: 'broker-down', spans: [silence] } as const;
    expect(reasonedParts(silence, [gateway(0, 5 * MINUTE_MS), broker], MINUTE_MS)).toEqual([
      { fromMs: 0, toMs: 5 * MINUTE_MS, reason: 'gateway-down' },
      { fromMs: 5 * MINUTE_MS, toMs: 10 * MINUTE_MS, reason: 'broker-down' },
    ]);
  });
});
