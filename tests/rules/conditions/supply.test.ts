import { describe, expect, test } from 'vitest';
import { alarmPicture } from '../../../rules/alarm/alarm.js';
import { familyOf, suppliesBehind } from '../../../rules/alarm/cause.js';
import { COVERS, mayCover } from '../../../rules/alarm/cover.js';
import { type Fault, stepFaults } from '../../../rules/alarm/fault.js';
import type { Finding } from '../../../rules/conditions/finding.js';
import type { Place } from '../../../rules/place.js';
import { larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const place = (id: string, kind: Place['kind']): Place => ({ id, kind, name: id, order: 9 });
const flowing = (id: string, lineId: string, more: Partial<Place> = {}) =>
  larvae(id, {
    lineId,
    airMainId: 'air-a',
    roomId: 'hall',
    regime: 'flow-through',
    stage: 'post-set',
    heaterW: 0,
    ...more,
  });
const settings = site(
  [
    place('north', 'line'),
    place('south', 'line'),
    place('air-a', 'air-main'),
    place('hall', 'room'),
    flowing('s1', 'north'),
    flowing('s2', 'north'),
    flowing('s3', 'north'),
    flowing('t1', 'south'),
    flowing('t2', 'south'),
  ],
  Object.fromEntries([
    ...['s1', 's2', 's3', 't1', 't2'].map((id) => [id, { probes: WATER }] as const),
    ['north', { probes: ['temperature'] }] as const,
  ]),
);
const courses = (ids: readonly string[], quantity: string, course: (minute: number) => number) =>
  Object.fromEntries(ids.map((id) => [`${id}.${quantity}`, course]));

describe('a fault upstream', () => {
  test('is one call for the line, not one for each tank that it feeds', () => {
    const watched = watch(settings);
    watched.lives(120);
    const cold = (minute: number) => 24 - minute / 14;
    watched.lives(60, { ...courses(['s1', 's2', 's3'], 'temperature', cold), 'north.temperature': (m) => 24 - m / 10 });
    expect(watched.calls()).toEqual(['cond-on line-moved-together north']);
    expect(watched.finding('line-moved-together')).toMatchObject({
      evidence: ['header-moved-too'],
      ofPlaces: 3,
      channelId: 'north.temperature',
    });
  });

  test('is not the room, when tanks of another line in it move as well', () => {
    const watched = watch(settings);
    watched.lives(120);
    watched.lives(
      60,
      courses(['s1', 's2', 's3', 't1', 't2'], 'temperature', (minute) => 24 + minute / 50),
    );
    expect(watched.holds().filter((held) => held.startsWith('line-moved'))).toEqual([]);
  });

  test('is not one tank that leaves its group', () => {
    const watched = watch(settings);
    watched.lives(120);
    watched.lives(
      60,
      courses(['s1'], 'salinity', (minute) => 31 - minute / 30),
    );
    expect(watched.holds().filter((held) => held.startsWith('line-moved'))).toEqual([]);
    expect(watched.holds()).toContain('salinity-shift s1.salinity');
  });

  test('is not still tanks, which have the water of the line only when they are filled', () => {
    const still = site([place('north', 'line'), larvae('l1', { lineId: 'north' }), larvae('l2', { lineId: 'north' })], {
      l1: { probes: WATER },
      l2: { probes: WATER },
    });
    const watched = watch(still);
    watched.lives(120);
    watched.lives(
      60,
      courses(['l1', 'l2'], 'temperature', (minute) => 24 - minute / 30),
    );
    expect(watched.holds().filter((held) => held.startsWith('line-moved'))).toEqual([]);
  });
});

describe('a condition that covers another', () => {
  test('is never covered by it in turn', () => {
    const under = (code: string, reach: string): readonly string[] =>
      COVERS.filter((cover) => cover.over === code && cover.reach === reach).flatMap((cover) => cover.under);
    for (const { over, under: covered, reach } of COVERS)
      for (const code of covered) expect(under(code, reach)).not.toContain(over);
  });

  test('is not milder than it, and a high one is covered by its own channel only', () => {
    expect(mayCover('supply', 'medium', 'medium')).toBe(true);
    expect(mayCover('supply', 'low', 'medium')).toBe(false);
    expect(mayCover('supply', 'high', 'high')).toBe(false);
    expect(mayCover('channel', 'high', 'high')).toBe(true);
  });
});

describe('faults', () => {
  const picture = (id: string, finding: Partial<Finding> & Pick<Finding, 'condition' | 'placeId'>, atMinute = 0) => {
    const activatedMs = NIGHT_MS + atMinute * MINUTE;
    const full: Finding = { priority: 'medium', sinceMs: activatedMs, ...finding };
    const life = { core: 'unack', inhibits: [] } as const;
    return alarmPicture({ id, subject: finding.placeId, finding: full, life, activatedMs, changedMs: activatedMs });
  };
  const oxygen = (id: string, placeId: string, atMinute = 0, more: Partial<Finding> = {}) =>
    picture(id, { condition: 'oxygen-falling', placeId, channelId: `${placeId}.oxygen-mg-l`, ...more }, atMinute);
  const step = (before: readonly Fault[], alarms: Parameters<typeof stepFaults>[1], atMinute = 0) =>
    stepFaults(before, alarms, settings, NIGHT_MS + atMinute * MINUTE);

  test('hold alarms of one kind that share a supply, and keep the id of the first', () => {
    const { faults, news } = step([], [oxygen('a', 's1'), oxygen('b', 't1', 3)], 3);
    expect(faults).toMatchObject([{ id: 'a', family: 'oxygen', members: ['a', 'b'] }]);
    expect(faults[0]?.supplies[0]).toBe('air-a');
    expect(news.map(({ kind }) => kind)).toEqual(['begins', 'joins']);
  });

  test('let a joiner sound only when it is worse', () => {
    const begun = step([], [oxygen('a', 's1')]).faults;
    const mild = step(begun, [oxygen('a', 's1'), oxygen('b', 's2', 5)], 5);
    expect(mild.news).toMatchObject([{ kind: 'joins', sounds: false }]);
    const worse = step(begun, [oxygen('a', 's1'), oxygen('b', 's2', 5, { priority: 'high' })], 5);
    expect(worse.news).toMatchObject([{ kind: 'joins', sounds: true }]);
  });

  test('do not take in what comes hours later, nor another tank’s heater', () => {
    const begun = step([], [oxygen('a', 's1')]).faults;
    expect(step(begun, [oxygen('a', 's1'), oxygen('b', 's2', 90)], 90).faults).toHaveLength(2);
    const heaters = ['s1', 's2'].map((id) => picture(`h-${id}`, { condition: 'heater-stuck-on', placeId: id }));
    expect(step([], heaters).faults).toHaveLength(2);
  });

  test('keep the first alarm’s id when that alarm is over, and end when all are', () => {
    const both = step([], [oxygen('a', 's1'), oxygen('b', 's2', 2)], 2).faults;
    const later = step(both, [oxygen('b', 's2', 2)], 10);
    expect(later.faults).toMatchObject([{ id: 'a' }]);
    expect(step(later.faults, [], 20)).toMatchObject({ faults: [], news: [{ kind: 'ends', fault: { id: 'a' } }] });
  });

  test('know the family of a limit by its quantity, and the supplies behind it', () => {
    const finding = {
      condition: 'below-limit',
      priority: 'medium',
      placeId: 's1',
      channelId: 's1.salinity',
      sinceMs: 0,
      line: { kind: 'limit', side: 'low', value: 26 },
    } as const;
    expect(familyOf(finding)).toBe('salt');
    expect(suppliesBehind({ subject: 's1.salinity', finding }, settings)).toEqual(['north', 's1']);
  });
});

describe('the mains', () => {
  const settings = site([place('circuit-1', 'circuit'), larvae('l1', { circuitId: 'circuit-1' })], {
    'circuit-1': { probes: ['contact'] },
    l1: { probes: WATER },
  });
  const priorities = (watched: ReturnType<typeof watch>) =>
    watched.effects().flatMap((effect) => (effect.do === 'alarm' ? [effect.alarm.finding.priority] : []));

  test('that flicker for a minute are for the wall, with what to look at afterwards, and wake nobody', () => {
    const watched = watch(settings);
    watched.lives(30);
    watched.lives(1.5, { 'circuit-1.contact': 0 });
    watched.lives(20);
    expect(watched.calls()).toEqual(['cond-on mains-lost circuit-1']);
    expect(priorities(watched)).not.toContain('high');
    const last = watched.effects().findLast((effect) => effect.do === 'alarm');
    expect(last).toMatchObject({ event: 'cond-off', alarm: { finding: { checks: ['after-cut', 'set-clock'] } } });
  });

  test('that stay away call after two minutes', () => {
    const watched = watch(settings);
    watched.lives(30);
    watched.lives(3, { 'circuit-1.contact': 0 });
    expect(watched.finding('mains-lost')).toMatchObject({ priority: 'high' });
  });
});
