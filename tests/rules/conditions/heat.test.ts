import { describe, expect, test } from 'vitest';
import { fullHeatCPerHour } from '../../../rules/conditions/tolerance.js';
import type { Place } from '../../../rules/place.js';
import { HOUR, larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const T = 'l1.temperature';
const tankOf = (more: Partial<Place> = {}, probes: readonly string[] = WATER) =>
  site([larvae('l1', more)], { l1: { probes } });

const found = (codes: readonly string[], watched: ReturnType<typeof watch>) =>
  watched.calls().filter((call) => codes.some((code) => call.includes(code)));

describe('a heater that looks stuck on', () => {
  test('warms as its power and the water make it: 3 kW in 1,000 L by 2.646 °C an hour', () => {
    // Arithmetic: kW × 3600 / (V ρ cp), ρ 1.023 kg/L, cp 3.99 kJ/(kg K).
    expect(fullHeatCPerHour(larvae('l1', { heaterW: 3000, volumeL: 1000 }))).toBeCloseTo(2.646, 3);
  });

  test('wakes at the climb: long before the limit, with the clock time of the ceiling and what it rests on', () => {
    const watched = watch(tankOf());
    watched.lives(180);
    watched.lives(60, { [T]: (minute) => 24 + (1.76 * minute) / 60 });
    const finding = watched.finding('heater-stuck-on');
    const calledC = 24 + (1.76 * ((watched.calledAfter('heater-stuck-on') ?? 0) - 180)) / 60;
    expect(calledC).toBeLessThan(25.6);
    expect(finding).toMatchObject({ priority: 'high', line: { kind: 'ceiling', side: 'high', value: 30 } });
    // 30 °C at 1.76 °C an hour from 24: 204.5 minutes after it stuck.
    const truthMs = NIGHT_MS + (180 + (6 / 1.76) * 60) * MINUTE;
    expect(Math.abs((finding?.harm?.atMs ?? 0) - truthMs)).toBeLessThan(10 * MINUTE);
    expect(finding?.harm?.earliestMs).toBeLessThanOrEqual(truthMs);
    expect(finding?.evidence).toContain('heater-power-agrees');
    expect(finding?.checks?.[0]).toBe('heater-off-at-wall');
    expect(finding?.checks).not.toContain('flow-up');
  });

  test('in a small vessel calls within minutes: 1 kW in 75 L climbs 12 °C an hour', () => {
    const watched = watch(tankOf({ volumeL: 75 }));
    watched.lives(180);
    watched.lives(20, { [T]: (minute) => 24 + (11.7 * minute) / 60 });
    expect(watched.calledAfter('heater-stuck-on')).toBeLessThan(180 + 10);
  });

  test('is not a thermostat at work: half a degree up and down', () => {
    const watched = watch(tankOf());
    watched.lives(6 * 60, { [T]: (minute) => 24 + 0.3 * Math.asin(Math.sin((2 * Math.PI * minute) / 45)) });
    expect(found(['heater', 'heading', 'heat-lost'], watched)).toEqual([]);
  });

  test('is not a tank that warms up again after a cold filling', () => {
    const watched = watch(tankOf());
    watched.lives(180);
    watched.declares('water-change', 'l1', 30);
    watched.lives(30, { [T]: (minute) => 24 - minute / 10 });
    const open = watched.state().work;
    watched.tell({ kind: 'work', atMs: watched.now(), work: open.map((w) => ({ ...w, endedMs: watched.now() })) });
    watched.lives(120, { [T]: (minute) => Math.min(24, 21 + (1.7 * minute) / 60) });
    expect(found(['heater', 'heading'], watched)).toEqual([]);
  });

  test('is not a warm room that lifts all tanks slowly', () => {
    const settings = site([larvae('l1', { lineId: 'a' }), larvae('l2', { lineId: 'a' })], {
      l1: { probes: WATER },
      l2: { probes: WATER },
    });
    const watched = watch(settings);
    const sun = (minute: number) => 24 + (0.35 * minute) / 60;
    watched.lives(180);
    watched.lives(180, { [T]: sun, 'l2.temperature': sun });
    expect(found(['heater', 'heading'], watched)).toEqual([]);
  });

  test('is not warm water let in: far steeper than the heater can', () => {
    const watched = watch(tankOf());
    watched.lives(180);
    watched.lives(8, { [T]: (minute) => 24 + 0.25 * minute });
    watched.lives(40, { [T]: 26 });
    expect(found(['heater'], watched)).toEqual([]);
  });

  test('is not a probe with spikes beside a thermostat at work', () => {
    const watched = watch(tankOf({ regime: 'flow-through' }));
    const cycle = (minute: number) => 24 + 0.4 * Math.asin(Math.sin((2 * Math.PI * minute) / 60));
    watched.lives(8 * 60, { [T]: (minute) => cycle(minute) + (Math.round(minute * 2) % 31 === 0 ? 4.9 : 0) });
    expect(found(['heater', 'heading', 'heat-lost'], watched)).toEqual([]);
  });

  test('is not a heater without current, whatever the slope', () => {
    const watched = watch(tankOf({}, [...WATER, 'contact.heater-current']));
    const off = { 'l1.contact.heater-current': 0 };
    watched.lives(180, off);
    watched.lives(60, { ...off, [T]: (minute) => 24 + (1.76 * minute) / 60 });
    expect(found(['heater-stuck'], watched)).toEqual([]);
  });

  test('speaks for the milder ones of its channel: one call, not three', () => {
    const watched = watch(tankOf());
    watched.lives(180);
    watched.lives(200, { [T]: (minute) => 24 + (1.76 * minute) / 60 });
    const calls = watched.calls().filter((call) => call.endsWith(T));
    expect(calls).toEqual(['cond-on heater-stuck-on l1.temperature']);
    expect(watched.holds()).toContain('above-limit l1.temperature');
  });
});

describe('heat lost', () => {
  test('of larvae is worth a call after a degree and a half, of adults only with the limit near', () => {
    const cooling = (minute: number) => 18 + 6 * Math.exp(-minute / 500);
    const priority = (more: Partial<Place>) => {
      const watched = watch(tankOf(more));
      watched.lives(180);
      watched.lives(170, { [T]: cooling });
      return watched.finding('heat-lost')?.priority;
    };
    expect(priority({})).toBe('medium');
    expect(priority({ stage: 'conditioning' })).toBe('low');
  });

  test('names a heater that is on and does not heat', () => {
    const watched = watch(tankOf({}, [...WATER, 'contact.heater-current']));
    watched.lives(180);
    watched.lives(120, { [T]: (minute) => 18 + 6 * Math.exp(-minute / 500) });
    expect(watched.finding('heat-lost')?.evidence).toContain('heater-current-on');
  });

  test('is not a cool vessel set into the bath: a brief dip', () => {
    const watched = watch(tankOf());
    watched.lives(180);
    watched.lives(12, { [T]: (minute) => 24 - 0.12 * minute });
    watched.lives(40, { [T]: (minute) => Math.min(24, 22.6 + 0.1 * minute) });
    expect(found(['heat-lost', 'too-fast'], watched)).toEqual([]);
  });

  test('is not looked for in a tank that nobody heats: it follows the room at night', () => {
    const watched = watch(tankOf({ heaterW: 0 }));
    watched.lives(180);
    watched.lives(240, { [T]: (minute) => 24 - minute / 120 });
    expect(found(['heat-lost'], watched)).toEqual([]);
  });

  test('goes towards the room: not before the limit when the room is warmer than it', () => {
    const settings = site([larvae('l1', { roomId: 'hall' }), { id: 'hall', kind: 'room', name: 'Hall', order: 0 }], {
      l1: { probes: WATER },
      hall: { probes: ['temperature'] },
    });
    const watched = watch(settings);
    watched.lives(180, { 'hall.temperature': 21 });
    watched.lives(120, { 'hall.temperature': 21, [T]: (minute) => 21 + 3 * Math.exp(-minute / 200) });
    expect(watched.finding('heat-lost')).toMatchObject({ evidence: expect.arrayContaining(['room-agrees']) });
    expect(watched.finding('heat-lost')?.harm).toBeUndefined();
  });
});

describe('a spawning run', () => {
  const tray = () =>
    site(
      [
        larvae('l1', { stage: 'spawning', volumeL: 75, heaterW: 0 }),
        { id: 'hot', kind: 'bath', name: 'Hot supply', order: 1 },
      ],
      { l1: { probes: WATER }, hot: { probes: ['temperature'] } },
    );
  const warmTo = (peakC: number, perMin: number) => (minute: number) => Math.min(peakC, 24 + perMin * minute);
  const run = { peakC: 28, hotSupplyId: 'hot' };

  test('may swap water as planned: five degrees in ten minutes wake nobody', () => {
    const watched = watch(tray());
    watched.lives(60, { 'hot.temperature': 33 });
    watched.declares('spawning-run', 'l1', 240, { run });
    watched.lives(40, { 'hot.temperature': 33, [T]: warmTo(28, 0.5) });
    expect(watched.calls()).toEqual([]);
  });

  test('that climbs past its planned peak towards a hot supply is told before the ceiling', () => {
    const watched = watch(tray());
    watched.lives(60, { 'hot.temperature': 40 });
    watched.declares('spawning-run', 'l1', 240, { run });
    watched.lives(16, { 'hot.temperature': 40, [T]: (minute) => 40 - 16 * Math.exp(-minute / 35) });
    expect(watched.calls()[0]).toBe('cond-on heading-for-ceiling l1.temperature');
    expect(watched.finding('heading-for-ceiling')?.checks?.[0]).toBe('shut-hot-supply');
    expect(watched.finding('heading-for-ceiling')?.harm?.basis).toContain('lag-taken-out');
  });

  test('never suspends the ceiling', () => {
    const watched = watch(tray());
    watched.lives(60);
    watched.declares('spawning-run', 'l1', 240, { run });
    watched.lives(10, { [T]: 30.6 });
    expect(watched.calls()).toContain('cond-on above-ceiling l1.temperature');
  });

  test('suspends the limit of its own tray only', () => {
    const settings = site([larvae('l1', { heaterW: 0 }), larvae('l2', { heaterW: 0 })], {
      l1: { probes: WATER },
      l2: { probes: WATER },
    });
    const watched = watch(settings);
    watched.lives(10);
    watched.declares('spawning-run', 'l1', 240, { run });
    watched.lives(40, { [T]: warmTo(28.1, 0.2), 'l2.temperature': warmTo(28.1, 0.2) });
    expect(watched.calls().filter((call) => call.includes('l1'))).toEqual([]);
    expect(watched.calls().filter((call) => call.includes('l2'))).not.toEqual([]);
    expect(watched.holds()).toContain('above-limit l1.temperature');
  });
});

test('degree-hours beyond the limit are told with the limit alarm: one degree for an hour is 1 °C h', () => {
  const watched = watch(tankOf({ heaterW: 0 }));
  watched.lives(180);
  watched.lives(60, { [T]: 29 });
  const { unitHours = 0, hours = 0 } = watched.finding('above-limit', T)?.exposure ?? {};
  expect(unitHours).toBeCloseTo(1, 1);
  expect(hours).toBeCloseTo(1, 1);
});

test('a limit that the hatchery has not confirmed sounds, and says so', () => {
  const wants = { temperature: { limitHigh: 28, ceilingHigh: 30 } };
  const watched = watch(tankOf({ heaterW: 0, wants }));
  watched.lives(30);
  watched.lives(10, { [T]: 28.6 });
  expect(watched.finding('above-limit')?.unconfirmed).toBe(true);
});

test('twelve hours of an ordinary night call nobody', () => {
  const watched = watch(tankOf());
  watched.lives(12 * 60);
  expect(watched.calls()).toEqual([]);
  expect(watched.now() - NIGHT_MS).toBe(12 * HOUR);
});

describe('a thermostat that works, near its line', () => {
  const near = () =>
    tankOf({
      heaterW: 0,
      chilled: true,
      wants: {
        temperature: { targetLow: 20, targetHigh: 22, limitLow: 18, limitHigh: 23, ceilingHigh: 24, confirmed: true },
      },
    });
  /** Forty minutes a turn, up in two thirds of it: the swing of a chiller in a small tank. */
  const swings = (minute: number) => {
    const part = (minute % 40) / 40;
    return part < 0.67 ? 21.2 + (1 * part) / 0.67 : 22.2 - (part - 0.67) / 0.33;
  };

  test('swings up to where it turned before, and nobody is called for where it would go', () => {
    const watched = watch(near());
    // Where it turns is known after one turn.
    watched.lives(40, { [T]: swings });
    const before = watched.calls().length;
    watched.lives(8 * 60, { [T]: swings });
    expect(
      watched
        .calls()
        .slice(before)
        .filter((call) => call.includes('heading-for-ceiling')),
    ).toEqual([]);
  });

  test('and goes past it on the night that the chiller stops: then it is called, in time', () => {
    const watched = watch(near());
    watched.lives(8 * 60, { [T]: swings });
    watched.lives(60, { [T]: (minute) => 21.2 + (2.2 * minute) / 60 });
    expect(watched.finding('heading-for-ceiling')?.line).toEqual({ kind: 'ceiling', side: 'high', value: 24 });
  });
});
