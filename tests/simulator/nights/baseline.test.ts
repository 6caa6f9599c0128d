import { describe, expect, it } from 'vitest';
import { wantsFor } from '../../../rules/stage/wants.js';
import { baselineWatch, CAREFUL, type Manners, PLAIN } from '../../../simulator/nights/baseline.js';
import type { Call } from '../../../simulator/nights/call.js';
import { makeNight, type Night } from '../../../simulator/nights/night.js';
import { sourcesOf } from '../../../simulator/nights/told.js';

const MINUTE = 60_000;

/** Some night's hatchery, with what is declared in it replaced. */
const nightWith = (work: Night['work'] = []): Night => ({ ...makeNight(11), work });

const at = (night: Night, minute: number): number => night.hours.startMs + minute * MINUTE;

/** One thermometer told a course of minutes; every other probe is left out. */
const thermometerSays = (
  night: Night,
  course: (minute: number) => number | undefined,
  minutes: number,
  manners: Manners = CAREFUL,
): readonly Call[] => {
  const tank = 'l2';
  const source = sourcesOf(night.plant).findIndex(
    ({ probe: { place, quantity } }) => place.kind === 'tank' && place.id === tank && quantity === 'temperature',
  );
  const watch = baselineWatch(night, manners);
  const calls: Call[] = [];
  for (let half = 1; half <= 2 * minutes; half += 1) {
    const raw = course(half / 2);
    const heard = raw === undefined ? [] : [{ sourceId: source + 1, raw, isHonest: true }];
    calls.push(...watch.hear({ atMs: at(night, half / 2), heard, boards: [], truth: {} }));
  }
  return calls.filter(({ places, code }) => places.includes(tank) && code === 'temperature-limit');
};

const highOf = (night: Night): number => {
  const high = wantsFor(
    night.told.places.find(({ id }) => id === 'l2'),
    'temperature',
  )?.limitHigh;
  if (high === undefined) throw new Error('no limit');
  return high;
};

describe('fixed limits set up with care', () => {
  const night = nightWith();
  const high = highOf(night);

  it('call after two minutes beyond the limit, once', () => {
    const calls = thermometerSays(night, (minute) => (minute < 10 ? high - 2 : high + 1), 60);
    expect(calls.map(({ atMs }) => (atMs - night.hours.startMs) / MINUTE)).toEqual([12]);
  });

  it('do not call for a minute beyond it, nor again while it hangs within the deadband', () => {
    expect(thermometerSays(night, (minute) => (minute === 20 ? high + 3 : high - 2), 60)).toEqual([]);
    const hanging = (minute: number) =>
      minute < 10 ? high - 2 : Math.floor(minute / 5) % 2 === 0 ? high + 0.1 : high - 0.1;
    expect(thermometerSays(night, hanging, 90)).toHaveLength(1);
  });

  it('are muted by declared work at the tank, and call when it is over and the water is still beyond', () => {
    const work = [
      { id: 'w', kind: 'water-change', placeId: 'l2', by: 'crew', fromMs: at(night, 5), untilMs: at(night, 50) },
    ] as const;
    const muted = nightWith([...work]);
    const calls = thermometerSays(muted, (minute) => (minute < 10 ? high - 2 : high + 1), 90);
    expect(calls).toHaveLength(1);
    expect((calls[0]?.atMs ?? 0) - at(muted, 0)).toBeGreaterThanOrEqual(50 * MINUTE);
    expect((calls[0]?.atMs ?? 0) - at(muted, 0)).toBeLessThanOrEqual(53 * MINUTE);
  });

  it('take 85.0 of a broken thermometer for heat: nobody told them better', () => {
    expect(thermometerSays(night, (minute) => (minute < 10 ? high - 2 : 85), 30)).toHaveLength(1);
  });
});

describe('plain fixed limits', () => {
  it('call at the first value beyond, whatever work is declared, and not again within the deadband', () => {
    const night = nightWith();
    const high = highOf(night);
    const work = [
      { id: 'w', kind: 'water-change', placeId: 'l2', by: 'crew', fromMs: at(night, 5), untilMs: at(night, 50) },
    ] as const;
    const calls = thermometerSays(
      nightWith([...work]),
      (minute) => (minute < 10 ? high - 2 : Math.floor(minute) % 2 === 0 ? high + 0.1 : high - 0.1),
      60,
      PLAIN,
    );
    expect(calls.map(({ atMs }) => (atMs - night.hours.startMs) / MINUTE)).toEqual([10]);
  });
});
