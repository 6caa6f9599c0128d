import { describe, expect, test } from 'vitest';
import { confirmedPlace, linesOf } from '../../../rules/stage/confirm.js';
import { bandMiddle, feedTargetOf } from '../../../rules/stage/feed-target.js';
import { upkeepEveryH } from '../../../rules/stage/upkeep.js';
import { wantsFor } from '../../../rules/stage/wants.js';
import { tank } from '../../support/hatchery.js';

describe('standing by the limits of a stage', () => {
  test('writes down what stands there, confirmed, for this stage alone', () => {
    const confirmed = confirmedPlace(tank('l1'), {});
    expect(wantsFor(confirmed, 'temperature')).toMatchObject({ limitLow: 17, limitHigh: 30, confirmed: true });
    expect(wantsFor({ ...confirmed, stage: 'setting' }, 'temperature')).toMatchObject({
      limitHigh: 27,
      confirmed: false,
    });
  });

  test('takes what the hatchery typed over what the profile says', () => {
    const confirmed = confirmedPlace(tank('l1'), { temperature: { limitHigh: 28.5 } });
    expect(wantsFor(confirmed, 'temperature')).toMatchObject({ limitLow: 17, limitHigh: 28.5, confirmed: true });
  });

  test('frees what was held by a change of stage: a person has looked', () => {
    const held = tank('l1', { stage: 'post-set', held: { temperature: { limitLow: 17 } } });
    expect(wantsFor(held, 'temperature')?.limitLow).toBe(17);
    expect(linesOf(held, 'temperature').limitLow).toBe(15);
    const confirmed = confirmedPlace(held, {});
    expect(confirmed.held).toBeUndefined();
    expect(wantsFor(confirmed, 'temperature')?.limitLow).toBe(15);
  });

  test('says nothing of an empty tank', () => {
    const empty = tank('l1', { stage: 'empty' });
    expect(confirmedPlace(empty, { temperature: { limitHigh: 1 } })).toBe(empty);
  });
});

describe('what a stage wants beside its water', () => {
  test('food is the middle of its target: 50,000 to 100,000 cells per mL for larvae of the general clam', () => {
    expect(bandMiddle(feedTargetOf(tank('l1')))).toBe(75_000);
    expect(feedTargetOf(tank('l1', { stage: 'empty' }))).toBeUndefined();
  });

  test('the water of larvae is changed daily, as the hatchery set it where it did, and by its phases in a run', () => {
    expect(upkeepEveryH(tank('l1'), 'water-change')).toBe(24);
    expect(upkeepEveryH(tank('l1', { upkeepH: { 'water-change': 48 } }), 'water-change')).toBe(48);
    expect(upkeepEveryH(tank('l1', { upkeepH: { 'water-change': 0 } }), 'water-change')).toBeUndefined();
    expect(upkeepEveryH(tank('l1', { stage: 'spawning' }), 'water-change')).toBeUndefined();
  });
});

test('too much gas is judged as a share of saturation, never in mg/L, which depends on the temperature', () => {
  const tray = tank('t1', { stage: 'spawning' });
  expect(wantsFor(tray, 'oxygen-mg-l')?.limitHigh).toBeUndefined();
  expect(wantsFor(tray, 'oxygen-mg-l')?.limitLow).toBeGreaterThan(0);
  expect(wantsFor(tray, 'oxygen-saturation')?.limitHigh).toBe(115);
});
