import { describe, expect, it } from 'vitest';
import { OXYGEN_LOSS_HORIZONS } from '../../../rules/stage/oxygen-loss.js';
import { liveNight } from '../../../simulator/nights/course.js';
import { type Exposure, harmOf, stepExposure, unharmed } from '../../../simulator/nights/harm.js';
import { makeNight } from '../../../simulator/nights/night.js';
import { nightSeed } from '../../../simulator/nights/pool.js';
import { ANOXIA_HALF_DEAD_H, DRY_HALF_DEAD_H } from '../../../simulator/nights/tolerance.js';
import type { Tank } from '../../../simulator/tank.js';
import { stillWater, type Water } from '../../../simulator/water.js';
import { plainTank } from '../plain-tank.js';

const tankOf = (stage: string, speciesGroup = 'hard-clam'): Tank => plainTank({ stage, speciesGroup });

type Course = (hour: number, still: Water) => Partial<Water>;

/** Hours until harm and by what, when the water goes as `course` says; a minute a step. */
const livedThrough = (
  tank: Tank,
  fromC: number,
  hours: number,
  course: Course,
): { hour: number; by: string } | undefined => {
  const still = stillWater(tank, fromC, 30);
  let exposure: Exposure = unharmed(still);
  for (let minute = 1; minute <= hours * 60; minute += 1) {
    exposure = stepExposure(exposure, tank, { ...still, ...course(minute / 60, still) }, 60, false);
    const by = harmOf(exposure);
    if (by !== undefined) return { hour: minute / 60, by };
  }
  return undefined;
};

const both = (value: number) => ({ upper: value, lower: value });

describe('harm', () => {
  it('does not come to animals in the water they are used to', () => {
    for (const stage of ['embryo', 'larva', 'setting', 'post-set', 'nursery', 'conditioning', 'ripe']) {
      expect(livedThrough(tankOf(stage), 24, 24, () => ({}))).toBeUndefined();
    }
  });

  it('comes by heat after a quarter of the time in which half would die', () => {
    // Hard clam larvae: half dead after an hour at 42 °C by the line of simulator/nights/tolerance.ts (placeholder).
    expect(livedThrough(tankOf('larva'), 24, 2, () => ({ temperatureC: both(42) }))?.hour).toBeCloseTo(0.25, 1);
    // WRIGHT83: straight-hinge hard clam larvae stood 40 to 41 °C for over two hours with little death.
    const at40 = livedThrough(tankOf('larva'), 24, 6, () => ({ temperatureC: both(40) }));
    expect(at40?.by).toBe('heat');
    expect(at40?.hour).toBeGreaterThan(1);
  });

  it('comes to ripe broodstock that are warmed fast, not to those warmed a degree a day', () => {
    const fast = livedThrough(tankOf('ripe'), 20, 12, (hour) => ({ temperatureC: both(20 + 3 * hour) }));
    expect(fast?.by).toBe('spawned');
    expect(livedThrough(tankOf('ripe'), 20, 96, (hour) => ({ temperatureC: both(20 + hour / 24) }))).toBeUndefined();
  });

  it('comes to embryos by cold as well as by warmth', () => {
    expect(livedThrough(tankOf('embryo'), 25, 6, () => ({ temperatureC: both(19) }))?.by).toBe('shifted');
    expect(livedThrough(tankOf('larva'), 25, 10, () => ({ temperatureC: both(19) }))).toBeUndefined();
  });

  it('comes to a loaded nursery bed within one to four hours without oxygen, and to adults not in a night', () => {
    const none = () => ({ oxygenMgL: both(0) });
    const bed = livedThrough(tankOf('nursery'), 22, 10, none);
    expect(bed?.by).toBe('no-oxygen');
    // Common practice, no source: a loaded bed in its own water in summer is lost in 1 to 4 hours.
    expect(bed?.hour).toBeGreaterThan(1);
    expect(bed?.hour).toBeLessThan(4);
    expect(livedThrough(tankOf('conditioning'), 22, 24, none)).toBeUndefined();
  });

  it('comes to larvae that run out with their water, and not to those caught on a screen at a drain-down', () => {
    const sinking = (hour: number, still: Water) => ({ volumeL: still.volumeL * (1 - hour / 2) });
    expect(livedThrough(tankOf('larva'), 24, 2, sinking)?.by).toBe('lost-with-water');
    const tank = tankOf('larva');
    const still = stillWater(tank, 24, 30);
    const drained = { ...still, volumeL: 1 };
    expect(harmOf(stepExposure(unharmed(still), tank, drained, 3600, true))).toBeUndefined();
  });

  it('takes the published survival times where there are some', () => {
    const hours = (figure: { readonly value: number } | undefined) => figure?.value;
    expect(hours(ANOXIA_HALF_DEAD_H.larva)).toBe(OXYGEN_LOSS_HORIZONS.earlyLarva82UmAnoxiaH.value);
    expect(hours(ANOXIA_HALF_DEAD_H.setting)).toBe(OXYGEN_LOSS_HORIZONS.pediveliger312UmAnoxiaH.value);
    expect(hours(ANOXIA_HALF_DEAD_H['post-set'])).toBe(OXYGEN_LOSS_HORIZONS.newlySetAnoxiaH.value);
    expect(hours(ANOXIA_HALF_DEAD_H.conditioning)).toBe(OXYGEN_LOSS_HORIZONS.adultManilaClamAtHalfMgLH.value);
    expect(hours(DRY_HALF_DEAD_H.conditioning)).toBe(OXYGEN_LOSS_HORIZONS.adultClamInAirAt20CH.value);
  });

  it('does not move when somebody changes a limit', () => {
    const night = Array.from({ length: 60 }, (_, index) => makeNight(nightSeed(1002, index))).find(
      ({ failure }) => failure?.kind === 'heater-stuck' || failure?.kind === 'leak',
    );
    if (night === undefined) throw new Error('no such failure among the first');
    const places = night.told.places.map((place) => ({
      ...place,
      wants: { temperature: { limitHigh: 1, limitLow: 0 }, 'oxygen-mg-l': { limitLow: 20 } },
    }));
    const other = { ...night, told: { ...night.told, places } };
    expect(liveNight(other).harmed).toEqual(liveNight(night).harmed);
  });
});
