import { describe, expect, it } from 'vitest';
import { liveNight } from '../../../simulator/nights/course.js';
import { FAILURE_KINDS } from '../../../simulator/nights/failure.js';
import { makeNight } from '../../../simulator/nights/night.js';
import { nightSeed } from '../../../simulator/nights/pool.js';
import { HOUR_MS } from '../../../simulator/nights/span.js';
import { sourcesOf } from '../../../simulator/nights/told.js';

const nights = Array.from({ length: 400 }, (_, index) => makeNight(nightSeed(1001, index)));

describe('a night made from a seed', () => {
  it('is the same night again from the same seed, and another from another', () => {
    const [one, again, other] = [makeNight(5), makeNight(5), makeNight(6)];
    expect(again).toEqual(one);
    expect(other.plant).not.toEqual(one.plant);
    const heard = (seed: number) => JSON.stringify(liveNight(makeNight(seed)).moments.map(({ heard: list }) => list));
    const [first, second] = [heard(5), heard(5)];
    expect(first === second).toBe(true);
  });

  it('lasts ten hours and has twelve tanks with temperature, salt and oxygen each', () => {
    for (const { hours, plant } of nights.slice(0, 20)) {
      expect(hours.endMs - hours.startMs).toBe(10 * HOUR_MS);
      expect(plant.tanks).toHaveLength(12);
      for (const { id } of plant.tanks) {
        const quantities = sourcesOf(plant)
          .filter(({ probe: { place } }) => place.kind === 'tank' && place.id === id)
          .map(({ probe }) => probe.quantity.replace(/-.*/, '').replace('conductivity', 'salinity'));
        expect(quantities).toEqual(expect.arrayContaining(['temperature', 'salinity', 'oxygen']));
      }
    }
  });

  it('is heard every half minute from each probe when nothing is wrong', () => {
    const calm = nights.find(({ failure, events, plant }) => {
      const troubles = events.filter(
        ({ kind }) => kind === 'probe-fault' || kind === 'board-fault' || kind === 'power-cut',
      );
      return failure === undefined && troubles.length === 0 && plant.tanks.every(({ stage }) => stage !== 'spawning');
    });
    if (calm === undefined) throw new Error('no calm night among the first');
    const inNight = liveNight(calm).moments.filter(({ atMs }) => atMs > calm.hours.startMs);
    expect(inNight).toHaveLength(1200);
    expect(new Set(inNight.map(({ heard }) => heard.length))).toEqual(new Set([sourcesOf(calm.plant).length]));
  });

  it('fails in about one of four, in every way that there is', () => {
    const failures = nights.flatMap(({ failure }) => (failure === undefined ? [] : [failure]));
    expect(failures.length / nights.length).toBeGreaterThan(0.2);
    expect(failures.length / nights.length).toBeLessThan(0.3);
    expect(new Set(failures.map(({ kind }) => kind))).toEqual(new Set(FAILURE_KINDS));
  });

  it('tells the watch volumes and heater powers as people believe them, near the truth and seldom it', () => {
    const ratios = nights.flatMap(({ plant, told }) =>
      plant.tanks.flatMap(({ id, volumeL }) => {
        const believed = told.places.find((place) => place.id === id)?.volumeL;
        return believed === undefined ? [] : [believed / volumeL];
      }),
    );
    const off = ratios.map((ratio) => Math.abs(ratio - 1)).sort((a, b) => a - b);
    expect(ratios.length).toBeLessThan(12 * nights.length);
    expect(off[Math.floor(off.length / 2)]).toBeGreaterThan(0.02);
    expect(off[Math.floor(off.length * 0.99)]).toBeLessThan(0.3);
  });

  it('has somebody on site while a valve is shut or a tank is drained by hand', () => {
    const alone = nights.flatMap(({ seed, events, onSite }) =>
      events
        .filter(({ kind }) => kind === 'drain-down' || kind === 'flow-off' || kind === 'water-change')
        .filter(({ fromMs, toMs }) => !onSite.some((span) => span.fromMs <= fromMs && toMs <= span.toMs))
        .map(({ kind }) => `${kind} in night ${seed}`),
    );
    expect(alone).toEqual([]);
  });

  it('says nothing of a failure to the watch before it begins', () => {
    const failing = nights.find(({ failure }) => failure?.kind === 'heater-stuck');
    if (failing?.failure === undefined) throw new Error('no heater stuck among the first');
    const { failure, ...without } = failing;
    const heardBefore = (night: typeof without) =>
      liveNight(night)
        .moments.filter(({ atMs }) => atMs <= failure.fromMs)
        .map(({ heard }) => heard);
    expect(heardBefore(failing)).toEqual(heardBefore(without));
    expect(without.told).toBe(failing.told);
  });
});
