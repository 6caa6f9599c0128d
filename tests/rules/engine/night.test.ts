import { describe, expect, test } from 'vitest';
import { channelPicture, openAlarms } from '../../../rules/engine/picture.js';
import { hatchery, mappingsOf, NOON_MS, tank } from '../../support/hatchery.js';
import { MINUTE, night } from '../../support/night.js';

const TEMPERATURE = 11;
const CONDUCTIVITY = 12;
const OXYGEN = 13;
const SEA = 47.3;

const channel = (watched: ReturnType<typeof night>, id: string) => {
  const index = watched.state().plan.channelOf.get(id);
  if (index === undefined) throw new Error(`no channel ${id}`);
  return channelPicture(watched.state(), index);
};

describe('an alarm', () => {
  test('waits for its on-delay, and counts from the moment at which it ran out', () => {
    const watched = night();
    watched.runs(2, { [TEMPERATURE]: 31 });
    expect(watched.story()).toEqual([]);
    watched.runs(1, { [TEMPERATURE]: 31 });
    expect(watched.story()).toEqual(['cond-on above-limit l1.temperature']);
    expect(watched.alarms()[0]?.alarm.activatedMs).toBe(NOON_MS + 10_000 + 2 * MINUTE);
  });

  test('does not sound for one reading that comes back at once', () => {
    const watched = night();
    watched.runs(1, { [TEMPERATURE]: 26 });
    watched.reads(TEMPERATURE, 31);
    watched.runs(5, { [TEMPERATURE]: 26 });
    expect(watched.story()).toEqual([]);
  });

  test('holds while the value is inside the deadband, and ends behind it', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    watched.runs(5, { [TEMPERATURE]: 29.9 });
    expect(watched.story()).toEqual(['cond-on above-limit l1.temperature']);
    watched.runs(2, { [TEMPERATURE]: 29.7 });
    expect(watched.story().at(-1)).toBe('cond-off above-limit l1.temperature');
  });

  test('stays on the list after it cleared by itself, until somebody has seen it', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    watched.runs(3, { [TEMPERATURE]: 26 });
    const [alarm] = openAlarms(watched.state());
    expect(alarm?.state).toBe('rtn-unack');
    watched.tell({ kind: 'answer', atMs: watched.now(), alarmId: alarm?.id ?? '', verb: 'ack', by: 'Ines' });
    expect(openAlarms(watched.state())).toEqual([]);
  });

  test('calls again half an hour or two hours after it was acknowledged, if it is still true', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    const id = openAlarms(watched.state())[0]?.id ?? '';
    watched.tell({ kind: 'answer', atMs: watched.now(), alarmId: id, verb: 'ack', by: 'Ines' });
    watched.runs(119, { [TEMPERATURE]: 31 });
    expect(watched.story().filter((line) => line.startsWith('realarm'))).toEqual([]);
    watched.runs(2, { [TEMPERATURE]: 31 });
    expect(watched.story().at(-1)).toBe('realarm above-limit l1.temperature');
    expect(openAlarms(watched.state())[0]?.state).toBe('unack');
  });

  test('says so when it is answered twice, and when it is not there', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    const alarmId = openAlarms(watched.state())[0]?.id ?? '';
    const answer = (id: string) =>
      watched.tell({ kind: 'answer', atMs: watched.now(), alarmId: id, verb: 'ack', by: 'Ines' });
    expect(answer(alarmId)[0]).toMatchObject({ do: 'alarm', event: 'ack', by: 'Ines' });
    expect(answer(alarmId)).toMatchObject([{ do: 'refuse', why: 'already-done' }]);
    expect(answer('gone')).toMatchObject([{ do: 'refuse', why: 'no-such-alarm' }]);
  });

  test('is shelved for at most eight hours, and sounds when they are over', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    const alarmId = openAlarms(watched.state())[0]?.id ?? '';
    watched.tell({
      kind: 'answer',
      atMs: watched.now(),
      alarmId,
      verb: 'shelve',
      by: 'Maren',
      reason: 'thermometer ordered',
      untilMs: watched.now() + 90_000 * MINUTE,
    });
    expect(openAlarms(watched.state())[0]).toMatchObject({
      inhibit: 'shelved',
      inhibitBy: 'Maren',
      inhibitReason: 'thermometer ordered',
      inhibitUntilMs: watched.now() + 480 * MINUTE,
    });
    watched.runs(479, { [TEMPERATURE]: 31 });
    expect(watched.story().at(-1)).toBe('shelve above-limit l1.temperature');
    watched.runs(2, { [TEMPERATURE]: 31 });
    expect(watched.story().at(-1)).toBe('shelve-expired above-limit l1.temperature');
    expect(openAlarms(watched.state())[0]?.state).toBe('unack');
  });

  test('put aside while it was worse comes forward as what it is then', () => {
    const watched = night(hatchery([tank('l1', { wants: { temperature: { limitHigh: 30 } } })]));
    watched.runs(6, { [TEMPERATURE]: 32 });
    expect(openAlarms(watched.state())[0]?.finding.priority).toBe('medium');
    const alarmId = openAlarms(watched.state())[0]?.id ?? '';
    const untilMs = watched.now() + 20 * MINUTE;
    watched.tell({
      kind: 'answer',
      atMs: watched.now(),
      alarmId,
      verb: 'shelve',
      by: 'Maren',
      reason: 'seen',
      untilMs,
    });
    watched.runs(25, { [TEMPERATURE]: 30.2 });
    expect(watched.story().at(-1)).toBe('shelve-expired above-limit l1.temperature');
    expect(openAlarms(watched.state())[0]).toMatchObject({ state: 'unack', finding: { priority: 'low' } });
  });

  test('beyond what is never to be passed stays when the water is back, until somebody has looked and says so', () => {
    const ceiling = { temperature: { limitHigh: 30, ceilingHigh: 32 } };
    const watched = night(hatchery([tank('l1', { wants: ceiling })]));
    watched.runs(4, { [TEMPERATURE]: 34 });
    watched.runs(10, { [TEMPERATURE]: 26 });
    const open = () => openAlarms(watched.state()).find(({ finding }) => finding.condition === 'above-ceiling');
    expect(open()?.state).toBe('latched-unack');
    const alarmId = open()?.id ?? '';
    const say = (verb: 'ack' | 'reset') =>
      watched.tell({ kind: 'answer', atMs: watched.now(), alarmId, verb, by: 'Ines' });
    expect(say('reset')).toMatchObject([{ do: 'refuse' }]);
    say('ack');
    expect(open()?.state).toBe('latched-ack');
    say('reset');
    expect(open()).toBeUndefined();
  });

  test('ends, and says so, when its tank is emptied', () => {
    const tanks = [tank('l1'), tank('l2', { order: 1 })];
    const watched = night(hatchery(tanks));
    watched.runs(3, { [TEMPERATURE]: 31 });
    const emptied = hatchery([tank('l1', { stage: 'empty' }), ...tanks.slice(1)]);
    watched.tell({ kind: 'hatchery', atMs: watched.now(), hatchery: emptied });
    expect(watched.story().at(-1)).toBe('retired above-limit l1.temperature');
    expect(openAlarms(watched.state()).filter(({ subject }) => subject === 'l1.temperature')).toEqual([]);
  });
});

describe('silence', () => {
  test('is shown after ten periods, and is an alarm five minutes later', () => {
    const watched = night();
    watched.runs(5);
    watched.runs(1.5, { [TEMPERATURE]: undefined });
    expect(channel(watched, 'l1.temperature').state).toBe('in-target');
    watched.runs(0.5, { [TEMPERATURE]: undefined });
    expect(channel(watched, 'l1.temperature').state).toBe('silent');
    expect(watched.story().filter((line) => line.includes('l1.temperature'))).toEqual([]);
    watched.runs(5, { [TEMPERATURE]: undefined });
    expect(watched.story()).toContain('cond-on silent l1.temperature');
    watched.reads(TEMPERATURE, 26);
    expect(watched.story().at(-1)).toBe('cond-off silent l1.temperature');
    expect(channel(watched, 'l1.temperature').state).toBe('in-target');
  });

  test('counts anew when the gateway itself was away', () => {
    const watched = night();
    watched.runs(5, { [TEMPERATURE]: 26 });
    const back = watched.now() + 60 * MINUTE;
    const { state } = { state: watched.state() };
    expect(state.channels.length).toBeGreaterThan(0);
    watched.tell({ kind: 'start', atMs: back });
    watched.tell({ kind: 'tick', atMs: back + 90_000 });
    const after = watched.alarms().filter(({ atMs, event }) => event === 'cond-on' && atMs > back);
    expect(after).toEqual([]);
  });
});

describe('a reading that cannot be water', () => {
  test('neither raises nor clears a water alarm; the blinded channel is itself the finding', () => {
    const watched = night();
    watched.runs(3, { [TEMPERATURE]: 31 });
    watched.runs(3, { [TEMPERATURE]: -127 });
    expect(watched.story()).toEqual(['cond-on above-limit l1.temperature', 'cond-on not-plausible l1.temperature']);
    expect(channel(watched, 'l1.temperature')).toMatchObject({ state: 'not-plausible', value: 31 });
  });
});

describe('a tank drained with nobody saying so', () => {
  const drained = (watched: ReturnType<typeof night>) => {
    watched.runs(2);
    watched.runs(4, { [CONDUCTIVITY]: 0.1, [OXYGEN]: 8 });
  };

  test('is out of water, not fresh water: no salinity alarm, but somebody is asked to look', () => {
    const watched = night();
    drained(watched);
    expect(channel(watched, 'l1.temperature').state).toBe('out-of-water');
    expect(watched.story().filter((line) => line.startsWith('cond-on'))).toEqual(['cond-on probe-in-air l1']);
  });

  test('is expected during a declared drain-down: nobody is called, and the record says why', () => {
    const watched = night();
    const work = {
      id: 'w1',
      kind: 'drain-down',
      placeId: 'l1',
      by: 'Ines',
      fromMs: NOON_MS,
      untilMs: NOON_MS + 60 * MINUTE,
    } as const;
    watched.tell({ kind: 'work', atMs: NOON_MS, work: [work] });
    drained(watched);
    expect(watched.calls()).toEqual([]);
    expect(watched.story()).toEqual(['suppress probe-in-air l1', 'cond-on probe-in-air l1']);
  });
});

describe('what is computed', () => {
  test('salinity follows conductivity and temperature, and oxygen saturation follows all three', () => {
    const watched = night();
    watched.reads(TEMPERATURE, 15);
    watched.reads(CONDUCTIVITY, 42.914);
    watched.reads(OXYGEN, 8);
    // 42.914 mS/cm at 15 °C (IPTS-68) is salinity 35 by definition of PSS-78 (UNESCO 1983).
    expect(channel(watched, 'l1.salinity~computed').value).toBeCloseTo(35, 2);
    expect(channel(watched, 'l1.oxygen-saturation~computed').value).toBeCloseTo(98.6, 0);
  });

  test('has no value without its inputs, and none from a stale one', () => {
    const watched = night();
    watched.reads(CONDUCTIVITY, SEA);
    expect(channel(watched, 'l1.salinity~computed').value).toBeUndefined();
    watched.reads(TEMPERATURE, 26);
    watched.passes(10);
    watched.reads(CONDUCTIVITY, SEA);
    expect(channel(watched, 'l1.salinity~computed').value).toBeUndefined();
  });
});

describe('time', () => {
  const at = (minutes: number) => NOON_MS + minutes * MINUTE;

  test('a late burst fills the history, and wakes nobody', () => {
    const watched = night();
    watched.tell({ kind: 'reading', atMs: at(60), sourceId: TEMPERATURE, raw: 26, deviceMs: at(1) });
    for (let minute = 2; minute < 40; minute += 1) {
      watched.tell({ kind: 'reading', atMs: at(60), sourceId: TEMPERATURE, raw: 33, deviceMs: at(minute) });
    }
    watched.tell({ kind: 'tick', atMs: at(61) });
    expect(watched.story().filter((line) => line.includes('limit'))).toEqual([]);
  });

  test.each([
    ['1970', 12_000],
    ['2100', Date.UTC(2100, 0, 1)],
  ])('a board clock that says %s is not believed: arrival is used and the stamp kept beside it', (_, deviceMs) => {
    const watched = night();
    const [kept] = watched.tell({ kind: 'reading', atMs: at(1), sourceId: TEMPERATURE, raw: 26, deviceMs });
    expect(kept).toMatchObject({ do: 'keep', deviceMs: at(1), arrivalMs: at(1), refusedMs: deviceMs });
    expect(watched.state().probes[0]?.clockWrongMs).toBe(at(1));
  });

  test('every reading is kept: of a source without a name too, and one older than the newest', () => {
    const watched = night();
    watched.reads(TEMPERATURE, 26);
    const unnamed = watched.reads(999, 5);
    const older = watched.tell({ kind: 'reading', atMs: at(0), sourceId: TEMPERATURE, raw: 25, deviceMs: at(-30) });
    for (const effects of [unnamed, older]) expect(effects.filter((effect) => effect.do === 'keep')).toHaveLength(1);
    expect(channel(watched, 'l1.temperature').value).toBe(26);
  });

  test('the correction in force at arrival is applied, raw stays raw', () => {
    const settings = hatchery([tank('l1')], {
      calibrations: [{ sourceId: TEMPERATURE, fromMs: 0, slope: 1, offset: -0.5 }],
    });
    const watched = night(settings);
    const effects = watched.reads(TEMPERATURE, 26);
    expect(effects.find((effect) => effect.do === 'keep')).toMatchObject({ raw: 26 });
    expect(channel(watched, 'l1.temperature').value).toBe(25.5);
  });

  test('degrees Fahrenheit from a board are degrees Celsius inside', () => {
    const tanks = [tank('l1')];
    const mappings = mappingsOf(tanks).map((row) => (row.sourceId === TEMPERATURE ? { ...row, unit: 'degF' } : row));
    const watched = night(hatchery(tanks, { mappings }));
    watched.reads(TEMPERATURE, 77);
    expect(channel(watched, 'l1.temperature').value).toBeCloseTo(25, 9);
  });
});
