import { describe, expect, test } from 'vitest';
import type { Entry } from '../../../rules/log/entry.js';
import { placesAfter } from '../../../rules/log/follow.js';
import { replayStock } from '../../../rules/log/stock.js';
import type { Place } from '../../../rules/place.js';
import { heldLines, tighter } from '../../../rules/stage/hold.js';
import { wantsFor } from '../../../rules/stage/wants.js';
import { hatchery, NOON_MS, tank } from '../../support/hatchery.js';
import { begun, diary } from './diary.js';

const empty = (id: string): Place => tank(id, { stage: 'empty' });
const settled = (places: readonly Place[], before: readonly Entry[], after: readonly Entry[], accept = false) =>
  placesAfter(places, replayStock(before).book, replayStock(after).book, { atMs: NOON_MS, accept });
const place = (places: readonly Place[], id: string): Place => {
  const found = places.find((one) => one.id === id);
  if (found === undefined) throw new Error(`${id} did not change`);
  return found;
};

describe('targets and limits follow the animals', () => {
  const { places } = hatchery([tank('l1'), empty('l2'), empty('l3')]);

  test('a sheet that ends "to l2" leaves the first tank empty and makes l2 a tank of larvae', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 1000));
    const before = [...entries];
    write('drain-down', 'l1', { end: 'to', placeId: 'l2', count: { animals: 900 } });
    const changed = settled(places, before, entries);
    expect(place(changed, 'l1')).toMatchObject({ stage: 'empty' });
    expect(place(changed, 'l1').batch).toBeUndefined();
    expect(place(changed, 'l2')).toMatchObject({ stage: 'larva', batch: 'M1' });
    expect(wantsFor(place(changed, 'l1'), 'temperature')).toBeUndefined();
    expect(wantsFor(place(changed, 'l2'), 'temperature')?.limitHigh).toBe(30);
  });

  test('"back in" changes nothing', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 1000));
    const before = [...entries];
    write('drain-down', 'l1', { end: 'back-in', count: { animals: 900 } });
    expect(settled(places, before, entries)).toEqual([]);
  });

  test('a later stage tightens its limits at once', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 1000));
    const before = [...entries];
    write('stage', 'l1', { stage: 'setting' });
    const after = place(settled([tank('l1')], before, entries), 'l1');
    // Larvae of the general warm-temperate clam: 17 to 30 °C; setting: 17 to 27 °C.
    expect(wantsFor(after, 'temperature')).toMatchObject({ limitLow: 17, limitHigh: 27 });
    expect(after.held?.temperature).toBeUndefined();
  });

  test('a stage with wider limits keeps the tighter ones until a person takes the wider ones', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', { ...begun('M1', 1000), stage: 'setting' });
    const before = [...entries];
    write('stage', 'l1', { stage: 'post-set' });
    const here = tank('l1', { stage: 'setting' });
    // Setting 17 to 27 °C, post-set 15 to 27 °C.
    const held = place(settled([here], before, entries), 'l1');
    expect(wantsFor(held, 'temperature')?.limitLow).toBe(17);
    expect(held.held?.temperature).toEqual({ limitLow: 17 });
    const taken = place(settled([here], before, entries, true), 'l1');
    expect(wantsFor(taken, 'temperature')?.limitLow).toBe(15);
  });

  test('"confirmed" was said of the stage before, and is not carried on', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 1000));
    const before = [...entries];
    write('stage', 'l1', { stage: 'setting' });
    const here = tank('l1', { wants: { temperature: { limitHigh: 28, confirmed: true } } });
    const after = place(settled([here], before, entries), 'l1');
    expect(wantsFor(here, 'temperature')?.confirmed).toBe(true);
    expect(wantsFor(after, 'temperature')?.confirmed).toBe(false);
  });

  test('lines that a hatchery set for one stage rule in that stage alone', () => {
    const here = tank('l1', { stageWants: { larva: { temperature: { limitHigh: 26, confirmed: true } } } });
    expect(wantsFor(here, 'temperature')).toMatchObject({ limitHigh: 26, confirmed: true });
    expect(wantsFor({ ...here, stage: 'setting' }, 'temperature')).toMatchObject({ limitHigh: 27, confirmed: false });
  });
});

describe('held lines', () => {
  test('are the ones that would become wider, on each side, and those that would be gone', () => {
    expect(heldLines({ limitLow: 18, limitHigh: 26 }, { limitLow: 16, limitHigh: 24 })).toEqual({ limitLow: 18 });
    expect(heldLines({ ceilingHigh: 30 }, {})).toEqual({ ceilingHigh: 30 });
    expect(heldLines({ limitHigh: 26 }, { limitHigh: 26 })).toBeUndefined();
    expect(heldLines(undefined, { limitHigh: 26 })).toBeUndefined();
  });

  test('never widen what they are laid over', () => {
    expect(tighter({ limitLow: 15, limitHigh: 25 }, { limitLow: 17, limitHigh: 28 })).toEqual({
      limitLow: 17,
      limitHigh: 25,
    });
  });
});
