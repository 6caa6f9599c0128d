import { describe, expect, test } from 'vitest';
import type { WaterOver } from '../../../rules/bed/over.js';
import { bedReport } from '../../../rules/bed/report.js';
import { parseEntry } from '../../../rules/log/entry.js';
import { lookedBed } from '../../../rules/log/looked.js';
import type { Place } from '../../../rules/place.js';
import { bedWords } from '../../../rules/words/bed.js';
import { NOON_MS, tank } from '../../support/hatchery.js';
import { diary } from './diary.js';

const DAY = 86_400_000;
const bedded = (more: Partial<Place> = {}): Place =>
  tank('b1', {
    stage: 'conditioning',
    regime: 'flow-through',
    bed: { kind: 'sand', depthM: 0.12, cleanedAtMs: NOON_MS - 2 * DAY },
    ...more,
  });
const over = (atMs: number, oxygenMgL = 6.8): WaterOver => ({
  atMs,
  oxygenMgL,
  temperatureC: 21,
  salinity: 31,
  pressureKpa: 101.325,
});
const READER = { zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 } as const;

describe('a look at the bed', () => {
  const look = (layerMm: number, atMs: number) => diary(atMs).write('bed-look', 'b1', { layerMm, seenIn: 'core' });

  test('is what makes a depth be shown: none before it, and under the same water just what was seen after it', () => {
    const before = bedReport(bedded(), over(NOON_MS));
    expect(before?.estimate).toEqual({ kind: 'uncalibrated', why: 'never-calibrated' });
    expect(JSON.stringify(bedWords(before ?? never(), NOON_MS, READER))).not.toMatch(/\d mm/);
    const place = lookedBed(look(7, NOON_MS), bedded(), over(NOON_MS)) ?? never();
    const { estimate } = bedReport(place, over(NOON_MS)) ?? never();
    expect(estimate).toMatchObject({ kind: 'calibrated', lookedAtMs: NOON_MS });
    if (estimate.kind === 'calibrated') {
      expect(estimate.mm).toBeCloseTo(7, 6);
      expect(estimate.lowMm).toBeLessThan(7);
      expect(estimate.highMm).toBeGreaterThan(7);
    }
  });

  test('is held against what had been reckoned for that moment: the past error is shown', () => {
    const first = lookedBed(look(7, NOON_MS), bedded(), over(NOON_MS)) ?? never();
    const laterMs = NOON_MS + 3 * DAY;
    // Half the oxygen over it halves, about, what a layer of zero order reaches.
    const reckoned = bedReport(first, over(laterMs, 3.4))?.estimate;
    const second = lookedBed(look(5, laterMs), first, over(laterMs, 3.4)) ?? never();
    const report = bedReport(second, over(laterMs, 3.4)) ?? never();
    expect(report.looks).toHaveLength(2);
    expect(report.looks[0]?.estimatedMm).toBeUndefined();
    expect(report.looks[1]?.estimatedMm).toBeCloseTo(reckoned?.kind === 'calibrated' ? reckoned.mm : 0, 2);
    expect(report.medianErrorMm).toBeCloseTo(Math.abs(5 - (report.looks[1]?.estimatedMm ?? 0)), 6);
    const { depth, notes } = bedWords(report, laterMs + 3_600_000, READER);
    expect(depth).toBe('about 5.0 mm');
    expect(notes[0]).toMatch(
      /^Last look: 5\.0 mm seen, \d\.\d mm had been reckoned; off by \d\.\d mm at the median of 1/,
    );
  });

  test('that was written wrong and corrected stands once, beside what had been reckoned before either', () => {
    const first = lookedBed(look(7, NOON_MS), bedded(), over(NOON_MS)) ?? never();
    const wrong = lookedBed(look(60, NOON_MS + DAY), first, over(NOON_MS + DAY)) ?? never();
    const right = lookedBed(look(6, NOON_MS + DAY), wrong, over(NOON_MS + DAY)) ?? never();
    expect(right.bed?.looks?.map(({ seenMm }) => seenMm)).toEqual([7, 6]);
    expect(right.bed?.looks?.[1]?.estimatedMm).toBe(wrong.bed?.looks?.[1]?.estimatedMm);
    expect(right.bed?.calibration?.depthMm).toBe(6);
  });

  test('without the water over it is kept in the log, and calibrates nothing', () => {
    expect(lookedBed(look(7, NOON_MS), bedded(), undefined)).toBeUndefined();
  });

  test('that saw no layer says what it saw, and shows no number', () => {
    const smelt = diary().write('bed-look', 'b1', { smell: 'foul', siphons: 'none' });
    expect(lookedBed(smelt, bedded(), over(NOON_MS))).toBeUndefined();
  });

  test('older than a month no longer gives a depth', () => {
    const place = lookedBed(look(7, NOON_MS), bedded(), over(NOON_MS)) ?? never();
    expect(bedReport(place, over(NOON_MS + 40 * DAY))?.estimate).toEqual({
      kind: 'uncalibrated',
      why: 'calibration-old',
    });
  });

  test('takes a layer in mm within what can be', () => {
    const { by: _, ...sent } = diary().write('bed-look', 'b1', { layerMm: 7, seenIn: 'core' });
    expect(parseEntry({ ...sent, fields: { layerMm: -1, seenIn: 'core' } }, 'Ines')).toMatchObject({
      ok: false,
      fault: [{ pointer: '/fields/layerMm', code: 'out-of-range' }],
    });
  });
});

function never(): never {
  throw new Error('this look must count');
}
