import { describe, expect, test } from 'vitest';
import type { Bed, Place } from '../../../rules/place.js';
import { HOUR, larvae, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const DAY = 24 * HOUR;
const NOON_MS = NIGHT_MS + 15 * HOUR;

const bedded = (bed: Partial<Bed>, more: Partial<Place> = {}, probes: readonly string[] = WATER) =>
  site(
    [
      larvae('b1', {
        stage: 'conditioning',
        regime: 'flow-through',
        heaterW: 0,
        bed: { kind: 'sand', depthM: 0.1, ...bed },
        ...more,
      }),
    ],
    { b1: { probes } },
  );
const looked = { kind: 'core', depthMm: 12, atMs: NOON_MS - 3 * DAY, transport: 8, pumped: false } as const;

describe('likely anoxia in the bed', () => {
  test('is found where the redox in it is low, without any model', () => {
    const watched = watch(bedded({}, {}, [...WATER, 'orp.bed']));
    watched.lives(40, { 'b1.orp.bed': -180 });
    expect(watched.finding('bed-anoxia')).toMatchObject({ priority: 'medium', evidence: ['orp-low'] });
  });

  test('is not a clean bed under good water, calibrated or not', () => {
    for (const bed of [{}, { calibration: looked, limitDepthMm: 2 }]) {
      const watched = watch(bedded(bed));
      watched.lives(90);
      expect(watched.holds()).toEqual([]);
    }
  });

  test('uncalibrated stays without a number and for the morning: against the clean baseline only', () => {
    const watched = watch(bedded({}));
    watched.lives(90, { 'b1.oxygen-mg-l': 0.9 });
    const finding = watched.finding('bed-anoxia');
    expect(finding).toMatchObject({ priority: 'low', evidence: ['layer-thin', 'not-calibrated'] });
    expect(finding?.value).toBeUndefined();
  });

  test('calibrated by a look is held against the depth that the hatchery set', () => {
    const watched = watch(bedded({ calibration: looked, limitDepthMm: 8 }));
    watched.lives(90, { 'b1.oxygen-mg-l': 3 });
    expect(watched.finding('bed-anoxia')).toMatchObject({ priority: 'medium', evidence: ['layer-thin'] });
    expect(watched.finding('bed-anoxia')?.checks).toContain('clean-bed');
  });

  test('is not told during declared bed cleaning', () => {
    const watched = watch(bedded({}, {}, [...WATER, 'orp.bed']));
    watched.declares('bed-cleaning', 'b1', 120);
    watched.lives(60, { 'b1.orp.bed': -180 });
    expect(watched.calls()).toEqual([]);
  });
});

describe('clean the bed by', () => {
  const fouling: Partial<Bed> = {
    calibration: looked,
    limitDepthMm: 5,
    wasteMmolCM2Day: 15,
    cleanedAtMs: NOON_MS - DAY,
  };

  test('comes with its clock time before the bed is foul, by day', () => {
    const watched = watch(bedded(fouling), NOON_MS);
    watched.lives(90);
    const finding = watched.finding('clean-bed-by');
    expect(finding).toMatchObject({ priority: 'low' });
    expect(finding?.harm?.atMs).toBeGreaterThan(watched.now());
    expect(watched.holds()).not.toContain('bed-anoxia b1');
  });

  test('is never advised just before spawning', () => {
    const watched = watch(bedded(fouling, { stage: 'ripe' }), NOON_MS);
    watched.lives(90);
    expect(watched.holds()).not.toContain('clean-bed-by b1');
  });

  test('is not told at night, nor without a look at the layer', () => {
    const atNight = watch(bedded(fouling), NIGHT_MS);
    atNight.lives(90);
    expect(atNight.holds()).toEqual([]);
    const { calibration: _, ...unlooked } = fouling;
    const unseen = watch(bedded(unlooked), NOON_MS);
    unseen.lives(90);
    expect(unseen.holds()).not.toContain('clean-bed-by b1');
  });
});
