import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type DayColumns, openDay, sealDay } from '../../../../gateway/journal/sealed/day.js';
import { START_MS } from '../opened.js';

const DAY_MS = 86_400_000;

type Row = Readonly<Record<keyof DayColumns, number>>;

const columnsOf = (rows: readonly Row[]): DayColumns => {
  const column = (name: keyof DayColumns): Float64Array => Float64Array.from(rows, (row) => row[name]);
  return {
    deviceMs: column('deviceMs'),
    variant: column('variant'),
    delayMs: column('delayMs'),
    raw: column('raw'),
    flags: column('flags'),
    refusedMs: column('refusedMs'),
  };
};
const rowsOf = (day: DayColumns): readonly Row[] =>
  [...day.deviceMs].map((deviceMs, n) => ({
    deviceMs,
    variant: day.variant[n] ?? Number.NaN,
    delayMs: day.delayMs[n] ?? Number.NaN,
    raw: day.raw[n] ?? Number.NaN,
    flags: day.flags[n] ?? Number.NaN,
    refusedMs: day.refusedMs[n] ?? 0,
  }));

describe('a sealed day', () => {
  test('gives back irregular times, second values, gaps, late arrivals, flags and refused stamps as they were', () => {
    const reading = fc.record({
      deviceMs: fc.oneof(
        fc.integer({ min: 0, max: 8_639 }).map((n) => START_MS + n * 10_000),
        fc.integer({ min: 0, max: DAY_MS - 1 }).map((n) => START_MS + n),
      ),
      variant: fc.integer({ min: 0, max: 3 }),
      delayMs: fc.oneof(fc.integer({ min: 0, max: 90 }), fc.integer({ min: -60_000, max: 7 * DAY_MS })),
      raw: fc.double({ noNaN: true, noDefaultInfinity: true }),
      flags: fc.constantFrom(0, 16_777_220, 2 ** 30 - 1, 33_554_436),
      refusedMs: fc.oneof(fc.constant(Number.NaN), fc.integer({ min: -8.64e15, max: 8.64e15 })),
    });
    const days = fc
      .uniqueArray(reading, {
        selector: ({ deviceMs, variant }) => `${deviceMs} ${variant}`,
        minLength: 1,
        maxLength: 300,
      })
      .map((rows) => rows.sort((a, b) => a.deviceMs - b.deviceMs || a.variant - b.variant));
    fc.assert(
      fc.property(days, (rows) => {
        expect(rowsOf(openDay(sealDay(columnsOf(rows))))).toEqual(rows);
      }),
      { seed: 20260702, numRuns: 200 },
    );
  });

  const steady = (part: (n: number) => Partial<Row> = () => ({})): DayColumns =>
    columnsOf(
      Array.from({ length: 8_640 }, (_, n) => ({
        deviceMs: START_MS + n * 10_000,
        variant: 0,
        delayMs: 0,
        raw: 18.25,
        flags: 16_777_220,
        refusedMs: Number.NaN,
        ...part(n),
      })),
    );

  test('of a board that never changes takes next to nothing', () => {
    expect(sealDay(steady()).length).toBeLessThan(200);
  });

  test('of a clock that was set by an hour in between stays small and whole', () => {
    const day = steady((n) => ({
      deviceMs: START_MS + n * 10_000 - (n > 5_000 ? 3_600_000 : 0) + (n > 5_000 ? 7 : 0),
    }));
    const sorted = columnsOf([...rowsOf(day)].sort((a, b) => a.deviceMs - b.deviceMs));
    const sealed = sealDay(sorted);
    expect(rowsOf(openDay(sealed))).toEqual(rowsOf(sorted));
    expect(sealed.length).toBeLessThan(1_000);
  });

  test('with one bit turned over is refused', () => {
    const sealed = sealDay(steady((n) => ({ raw: n % 7 })));
    for (const place of [1, 9, Math.floor(sealed.length / 2), sealed.length - 1]) {
      const damaged = Buffer.from(sealed);
      damaged[place] = (damaged[place] ?? 0) ^ 4;
      expect(() => openDay(damaged)).toThrow('damaged');
    }
    expect(() => openDay(Buffer.from([9, 0]))).toThrow('a layout that this program does not know: 9');
  });
});
