import { describe, expect, it } from 'vitest';
import { addedUp, totalAt } from '../../../rules/review/added-up.js';
import type { Piece } from '../../../rules/review/piece.js';

const HOUR = 3_600_000;
const limit = (limitHigh: number, fromMs = 0) => ({ fromMs, wants: { limitHigh, confirmed: true } }) as never;
const line = (fromH: number, toH: number, from: number, to: number): Piece => ({
  fromMs: fromH * HOUR,
  toMs: toH * HOUR,
  from,
  to,
});

describe('degree-hours added up over time', () => {
  it('is the area beyond the limit, reached by the end', () => {
    // 18 to 22 °C in 4 h, limit 20: a triangle of 2 h and 2 °C, 2 °C h. Geometry.
    const sums = addedUp([line(0, 4, 18, 22)], [limit(20)], []);
    expect(totalAt(sums, 4 * HOUR)).toBeCloseTo(2, 12);
  });

  it('counts by the limit that ruled then, and nothing in declared work', () => {
    // 25 °C throughout: limit 24 for 2 h, then 23 for 2 h, one of them declared work: 2 × 1 + 1 × 2.
    const pieces = [line(0, 4, 25, 25)];
    const work = [{ fromMs: 3 * HOUR, toMs: 4 * HOUR }];
    const sums = addedUp(pieces, [limit(24), limit(23, 2 * HOUR)], work);
    expect(totalAt(sums, 2 * HOUR)).toBeCloseTo(2, 12);
    expect(totalAt(sums, 4 * HOUR)).toBeCloseTo(4, 12);
  });

  it('breaks at time that nobody measured, and adds nothing there', () => {
    const gap: Piece = { fromMs: HOUR, toMs: 2 * HOUR, reason: 'board-silent' };
    const sums = addedUp([line(0, 1, 26, 26), gap, line(2, 3, 26, 26)], [limit(25)], []);
    expect(sums.total).toContain(null);
    expect(totalAt(sums, 1.5 * HOUR)).toBeCloseTo(1, 12);
    expect(totalAt(sums, 3 * HOUR)).toBeCloseTo(2, 12);
  });
});
