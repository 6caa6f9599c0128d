import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burnInShift, cellSpans, FOOT, FULL_CELL, wallLayout } from '../../dashboard/state/wall-layout.js';

const tanks = (count: number) => Array.from({ length: count }, () => ({ narrow: false }));

describe('the wall', () => {
  it('shows three lines of five tanks in full size on a screen of 1920 by 1080', () => {
    const { density, strip, px } = wallLayout(1920, 1080, 3);
    const spans = cellSpans(tanks(5), strip.width, { gap: 6, widest: (strip.width + 6) / 5 });
    expect(density).toBe('full');
    expect(px).toBe(1);
    expect(spans.every(({ width }) => width >= FULL_CELL)).toBe(true);
  });

  it('never scrolls: whatever the number of lines, they fit above the foot', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1100, max: 3840 }),
        fc.integer({ min: 700, max: 2160 }),
        fc.integer({ min: 0, max: 20 }),
        (width, height, count) => {
          const { rows, columns, px, strip } = wallLayout(width, height, count);
          const tall = rows * (strip.title + strip.water + strip.labels + strip.words);
          expect(tall).toBeLessThanOrEqual(height - FOOT * px + 1e-6);
          expect(columns * strip.width).toBeLessThan(width);
          expect(rows * columns).toBeGreaterThanOrEqual(count);
          expect(strip.water).toBeGreaterThan(0);
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });

  it('keeps every tank where it was: places depend on the room, not on its state', () => {
    const spans = cellSpans(tanks(10), 1238, { gap: 6, widest: 200 });
    expect(spans.map(({ x }) => x)).toEqual(cellSpans(tanks(10), 1238, { gap: 6, widest: 200 }).map(({ x }) => x));
    expect((spans.at(-1)?.x ?? 0) + (spans.at(-1)?.width ?? 0)).toBeLessThanOrEqual(1238);
  });

  it('gives a header less room than a tank', () => {
    const [header, first] = cellSpans([{ narrow: true }, ...tanks(2)], 1000, { gap: 6, widest: 400 });
    expect(header?.width).toBeLessThan(first?.width ?? 0);
  });

  it('moves by a few pixels over the hours, never by more than one at a time', () => {
    let before = burnInShift(0);
    const seen = new Set<number>();
    for (let minute = 10; minute < 24 * 60; minute += 10) {
      const now = burnInShift(minute * 60_000);
      expect(Math.abs(now.x - before.x)).toBeLessThanOrEqual(1);
      expect(Math.abs(now.y - before.y)).toBeLessThanOrEqual(1);
      expect(Math.abs(now.x)).toBeLessThanOrEqual(4);
      seen.add(now.x);
      before = now;
    }
    expect(seen.size).toBe(9);
  });
});
