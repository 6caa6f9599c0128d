import { describe, expect, test } from 'vitest';
import { unseenMs } from '../../../rules/conditions/tolerance.js';
import { notWatchedList } from '../../../rules/engine/not-watched.js';
import { larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const gone = (...ids: readonly string[]) =>
  Object.fromEntries(ids.flatMap((id) => WATER.map((quantity) => [`${id}.${quantity}`, undefined])));
const two = () =>
  site([larvae('l1'), larvae('l2'), larvae('l3')], {
    l1: { probes: WATER, board: 'b1' },
    l2: { probes: WATER, board: 'b1' },
    l3: { probes: WATER, board: 'b2' },
  });

describe('silence', () => {
  test('of a board is one call for the board, first for the morning, later to wake', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.lives(12, gone('l1', 'l2'));
    expect(watched.calls()).toEqual(['cond-on board-offline b1']);
    expect(watched.finding('board-offline')).toMatchObject({ priority: 'low', places: ['l1', 'l2'], boardId: 'b1' });
    watched.lives(196, gone('l1', 'l2'));
    expect(watched.finding('board-offline')?.priority).toBe('medium');
    expect(watched.calls().at(-1)).toBe('realarm board-offline b1');
  });

  test('of everything is a power or network cut: one call, and the list when it is back', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.lives(10, gone('l1', 'l2', 'l3'));
    expect(watched.calls()).toEqual(['cond-on everything-silent wrack-cove-test']);
    watched.lives(5);
    const last = watched
      .effects()
      .findLast((e) => e.do === 'alarm' && e.alarm.finding.condition === 'everything-silent');
    expect(last).toMatchObject({ event: 'cond-off', alarm: { finding: { checks: ['after-cut', 'set-clock'] } } });
  });

  test('says that the broker is down where it is', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.tell({ kind: 'link', atMs: watched.now(), broker: 'down' });
    watched.lives(10, gone('l1', 'l2', 'l3'));
    expect(watched.finding('everything-silent')?.evidence).toEqual(['broker-down']);
  });

  test('of one probe wakes only when its tank has been unseen long enough to be harmed', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.lives(12, { 'l1.temperature': undefined });
    expect(watched.finding('silent', 'l1.temperature')?.priority).toBe('low');
    watched.lives(196, { 'l1.temperature': undefined });
    expect(watched.finding('silent', 'l1.temperature')?.priority).toBe('medium');
  });

  test('is not a board whose last will came while it goes on sending', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.tell({ kind: 'board', atMs: watched.now(), board: 'b1', state: 'offline' });
    watched.lives(10);
    expect(watched.calls()).toEqual([]);
  });

  test('is not a gateway that was restarted', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.tell({ kind: 'start', atMs: watched.now() + 40 * MINUTE });
    expect(watched.effects().filter((effect) => effect.do === 'alarm')).toEqual([]);
  });

  test('of warmth may last as long as the heater needs for 6 °C, of oxygen by the stage, of salt the whole night', () => {
    // Common practice, no source. 1 kW in 500 L makes 1.764 °C an hour: 204 minutes.
    expect(unseenMs(larvae('l1'), 'temperature') / MINUTE).toBeCloseTo(204, 0);
    expect(unseenMs(larvae('l2', { heaterW: 3000, volumeL: 60 }), 'temperature')).toBe(30 * MINUTE);
    expect(unseenMs(larvae('l3', { heaterW: 0 }), 'temperature')).toBe(720 * MINUTE);
    expect(unseenMs(larvae('n1', { stage: 'nursery' }), 'oxygen-mg-l')).toBe(60 * MINUTE);
    expect(unseenMs(larvae('l1'), 'salinity')).toBe(Number.POSITIVE_INFINITY);
    expect(unseenMs(larvae('e1', { stage: 'empty' }), 'temperature')).toBe(Number.POSITIVE_INFINITY);
  });

  test('of a probe that says what cannot be water is for the morning first', () => {
    const watched = watch(two());
    watched.lives(20);
    watched.lives(10, { 'l1.temperature': 85 }, new Set(['l1.temperature']));
    expect(watched.finding('not-plausible')?.priority).toBe('low');
    watched.lives(200, { 'l1.temperature': 85 }, new Set(['l1.temperature']));
    expect(watched.finding('not-plausible')?.priority).toBe('medium');
  });
});

describe('a probe in trouble is for the morning', () => {
  const one = () => site([larvae('l1', { heaterW: 0 })], { l1: { probes: WATER, board: 'b1' } });

  test('stuck: not one digit in an hour, in a trace that always moved, while the others did', () => {
    const watched = watch(one());
    watched.lives(14 * 60);
    watched.lives(80, { 'l1.temperature': 24 }, new Set(['l1.temperature']));
    expect(watched.finding('stuck')).toMatchObject({ priority: 'low' });
    watched.lives(10);
    expect(watched.holds()).not.toContain('stuck l1.temperature');
  });

  test('not stuck: a well-kept tank read to half a degree is honestly flat', () => {
    const watched = watch(one());
    const coarse = new Set(['l1.temperature']);
    watched.lives(16 * 60, { 'l1.temperature': 24 }, coarse);
    expect(watched.holds()).not.toContain('stuck l1.temperature');
  });

  test('noisy: it trembles far more than it used to', () => {
    const watched = watch(one());
    watched.lives(5 * 60);
    watched.lives(90, { 'l1.temperature': (minute) => 24 + 0.4 * Math.sin(minute * 97) });
    expect(watched.finding('noisy')).toMatchObject({ priority: 'low' });
  });

  test('drifting: away from the hand, until the hand agrees again', () => {
    const watched = watch(one());
    watched.lives(30);
    watched.tell({ kind: 'hand', atMs: watched.now(), placeId: 'l1', quantity: 'temperature', value: 23.1 });
    watched.lives(40);
    expect(watched.finding('drifting')?.evidence).toEqual(['hand-disagrees']);
    watched.tell({ kind: 'hand', atMs: watched.now(), placeId: 'l1', quantity: 'temperature', value: 24 });
    watched.lives(40);
    expect(watched.holds()).not.toContain('drifting l1.temperature');
  });

  test('drifting: away from the second probe in the same water, and silent about it for half an hour', () => {
    const settings = one();
    const second = {
      sourceId: 90,
      channelId: 'l1.temperature',
      unit: 'degC',
      fromMs: 0,
      ruling: false,
      periodMs: 30_000,
    };
    const watched = watch({ ...settings, mappings: [...settings.mappings, second] });
    watched.lives(25, { '#90': 24.8 });
    expect(watched.holds()).toEqual([]);
    watched.lives(20, { '#90': 24.8 });
    expect(watched.finding('drifting')?.evidence).toEqual(['companion-disagrees']);
  });

  test('battery and clock: low, and by the board', () => {
    const settings = site([larvae('l1')], { l1: { probes: [...WATER, 'battery'], board: 'b1' } });
    const watched = watch(settings);
    watched.lives(30, { 'l1.battery': 3.2 });
    expect(watched.finding('battery-low')).toMatchObject({ priority: 'low', boardId: 'b1' });
    for (let count = 0; count < 15; count += 1) {
      watched.lives(1, { 'l1.battery': 3.2 });
      watched.tell({ kind: 'reading', atMs: watched.now() + 1, sourceId: 1, raw: 24, deviceMs: 1_000 });
    }
    expect(watched.state().probes[0]?.clockWrongMs).toBeDefined();
  });
});

describe('the list of what is not watched', () => {
  const rows = (watched: ReturnType<typeof watch>) =>
    notWatchedList(watched.state()).map(({ channelId, why }) => [channelId, why]);

  test('names what has no limit, is silent, was never seen, or has limits that nobody confirmed', () => {
    const wants = { temperature: { limitHigh: 28 }, 'oxygen-mg-l': { limitLow: 4, confirmed: true } };
    const settings = site([larvae('l1', { wants, heaterW: 0 }), larvae('e1', { stage: 'empty' })], {
      l1: { probes: [...WATER, 'ph'] },
      e1: { probes: WATER },
    });
    const watched = watch(settings);
    watched.lives(20);
    expect(rows(watched)).toEqual([
      ['l1.temperature', 'unconfirmed'],
      ['l1.salinity', 'no-limit'],
      ['l1.ph', 'never-seen'],
    ]);
    watched.lives(10, { 'l1.oxygen-mg-l': undefined });
    expect(rows(watched)).toContainEqual(['l1.oxygen-mg-l', 'silent']);
  });

  test('names what a person put aside, and never raises an alarm by itself', () => {
    const watched = watch(site([larvae('l1', { heaterW: 0 })], { l1: { probes: WATER } }));
    watched.lives(30);
    watched.lives(10, { 'l1.temperature': 28.6 });
    const alarm = watched.state().judgements.find(({ alarm }) => alarm?.finding.condition === 'above-limit')?.alarm;
    watched.tell({
      kind: 'answer',
      atMs: watched.now(),
      alarmId: alarm?.id ?? '',
      verb: 'shelve',
      by: 'Maren',
      reason: 'thermometer ordered',
      untilMs: NIGHT_MS + 300 * MINUTE,
    });
    expect(rows(watched)).toContainEqual(['l1.temperature', 'muted']);
  });
});
