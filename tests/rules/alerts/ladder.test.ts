import { describe, expect, test } from 'vitest';
import type { AlarmPicture } from '../../../rules/alarm/alarm.js';
import { MINUTE, NIGHT_MS, ROLES, watchNight, world } from '../../support/ladder-night.js';

const harm = (minutes: number, nowMs = NIGHT_MS) => ({
  atMs: nowMs + minutes * MINUTE,
  earliestMs: nowMs + (minutes - 5) * MINUTE,
  latestMs: nowMs + (minutes + 10) * MINUTE,
  basis: [],
});
const withHarm = (minutes: number, nowMs?: number): Partial<AlarmPicture> => ({
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: NIGHT_MS,
    harm: harm(minutes, nowMs),
  },
});

describe('nobody answers', () => {
  test('the one on call, again by louder ways, then the one behind her, then the manager, then all of them each quarter of an hour', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(36);
    expect(night.story()).toEqual([
      '0 call asta',
      '2 call asta',
      '4 call asta',
      '10 call asta,bela',
      '20 call cora',
      '35 call asta,bela,cora',
    ]);
    expect(
      night
        .calls()
        .map(({ ways }) => ways.join('+'))
        .slice(0, 3),
    ).toEqual(['push+webhook', 'push+email', 'push+text+ring']);
  });

  test('after four hours it is written down as unanswered', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(241);
    expect(night.alerting().faults.a1?.ladder?.standing).toEqual({
      kind: 'ended',
      why: 'unanswered',
      atMs: NIGHT_MS + 240 * MINUTE,
    });
  });
});

describe('“I am going”', () => {
  test('keeps it quiet for the stated time and ten minutes; then she and the next are called, and the ladder goes on with the gaps it had', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(3);
    night.answers('asta', 'going', { minutes: 20 });
    night.passes(60);
    expect(night.story()).toEqual([
      '0 call asta',
      '2 call asta',
      '33 again asta,bela',
      '35 call asta',
      '41 call asta,bela',
      '51 call cora',
    ]);
  });

  test('tells the others who know that it is taken', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(11);
    night.answers('bela', 'going', { minutes: 40 });
    expect(night.story().at(-1)).toBe('11 taken asta');
  });

  test('“I am here” stops it; she is asked after forty minutes, and looked for ten minutes later', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.answers('asta', 'going', { minutes: 20 });
    night.passes(15);
    night.answers('asta', 'there');
    night.passes(51);
    expect(night.story()).toEqual(['0 call asta', '55 check-in asta', '65 alone asta,bela,cora']);
  });

  test('“I left, and I am well” ends the looking after', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.answers('asta', 'there');
    night.passes(5);
    night.answers('asta', 'safe');
    night.passes(120);
    expect(night.story()).toEqual(['0 call asta']);
  });

  test('water that gets materially worse calls her and the next at once', () => {
    const night = watchNight();
    night.alarm('cond-on', 'a1', withHarm(90));
    night.answers('asta', 'going', { minutes: 60 });
    night.passes(10);
    night.tell({
      kind: 'finding',
      atMs: night.now(),
      alarm: { ...withHarm(30, night.now()), id: 'a1' } as AlarmPicture,
    });
    expect(night.story().at(-1)).toBe('10 worse asta,bela');
  });

  test('a forecast that only comes nearer because time passes calls nobody', () => {
    const night = watchNight();
    night.alarm('cond-on', 'a1', withHarm(90));
    night.answers('asta', 'going', { minutes: 60 });
    night.passes(30);
    night.tell({ kind: 'finding', atMs: night.now(), alarm: { ...withHarm(90), id: 'a1' } as AlarmPicture });
    expect(night.story()).toEqual(['0 call asta']);
  });
});

describe('“Pass on”', () => {
  test('stays with the giver until the other takes it', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(1);
    night.answers('asta', 'pass-on');
    expect(night.story()).toEqual(['0 call asta', '1 offered bela']);
    expect(night.standing()).toBe('passing');
    night.passes(5);
    expect(night.story().at(-1)).toBe('6 again asta,bela');
  });

  test('once taken, it is the other’s', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.answers('asta', 'pass-on', { to: 'cora' });
    night.passes(2);
    night.answers('cora', 'going', { minutes: 20 });
    night.passes(8);
    expect(night.story()).toEqual(['0 call asta', '0 offered cora', '2 taken asta']);
  });

  test('with nobody to give it to, the ladder goes on', () => {
    const alone = { ...ROLES, backup: [], manager: [], everybody: ['asta'] };
    const night = watchNight(world({}, alone));
    night.alarm('cond-on');
    night.answers('asta', 'pass-on');
    expect(night.standing()).toBe('climbing');
  });
});

describe('the watch', () => {
  test('that is empty is loud: everybody who can be reached is called at once', () => {
    const empty = { ...ROLES, 'on-call': [], backup: [], manager: [] };
    const night = watchNight(world({}, empty));
    night.alarm('cond-on');
    night.passes(1);
    expect(night.story()).toEqual(['0 nobody asta,bela,cora']);
  });

  test('with nobody on call goes to the next who is there, without waiting for the hour of that step', () => {
    const night = watchNight(world({}, { ...ROLES, 'on-call': [] }));
    night.alarm('cond-on');
    night.passes(1);
    expect(night.story()).toEqual(['0 call bela']);
  });

  test('a way that is dead moves the ladder on at once', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.tell({ kind: 'made', atMs: night.now(), faultId: 'a1', label: 'step-1', messages: 1 });
    night.tell({ kind: 'failed', atMs: night.now(), faultId: 'a1', label: 'step-1' });
    night.passes(0.1);
    expect(night.story()).toEqual(['0 call asta', '0 call asta']);
  });
});

describe('time', () => {
  test('a gateway that was away for half an hour makes one call of what it missed, not five', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.jumps(36);
    expect(night.calls()).toHaveLength(2);
    expect(night.calls()[1]?.to).toEqual(['asta', 'bela', 'cora']);
  });

  test('a clock set back by an hour puts nothing off', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(1);
    night.jumps(-60);
    night.passes(2);
    expect(night.calls()).toHaveLength(2);
  });

  test('a clock set forward by an hour makes it due now, once', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(1);
    night.jumps(60);
    expect(night.calls()).toHaveLength(2);
  });

  test('two who answer at once are both heard, and the ladder is quiet', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(11);
    night.answers('asta', 'going', { minutes: 20 });
    night.answers('bela', 'going', { minutes: 20 });
    night.passes(20);
    expect(night.story().slice(-2)).toEqual(['11 taken bela', '11 taken asta']);
    expect(night.standing()).toBe('going');
  });
});

describe('one fault', () => {
  const together = world({ matesOf: () => ['a1', 'a2', 'a3', 'a4', 'a5', 'a6'] });

  test('of six tanks calls once', () => {
    const night = watchNight(together);
    for (const id of ['a1', 'a2', 'a3', 'a4', 'a5', 'a6']) night.alarm('cond-on', id);
    night.passes(1);
    expect(night.story()).toEqual(['0 call asta']);
  });

  test('a tank that joins what is in hand does not sound again', () => {
    const night = watchNight(together);
    night.alarm('cond-on');
    night.answers('asta', 'going', { minutes: 60 });
    night.passes(5);
    night.alarm('cond-on', 'a2');
    expect(night.story()).toEqual(['0 call asta']);
  });

  test('a joiner of higher priority does', () => {
    const night = watchNight(together);
    night.alarm('cond-on', 'a1', { priority: 'medium' });
    night.passes(6);
    night.answers('asta', 'going', { minutes: 60 });
    night.alarm('cond-on', 'a2', { priority: 'high' });
    expect(night.story().at(-1)).toBe('6 worse asta,bela');
  });

  test('ends when all are well, and says so quietly to those who know', () => {
    const night = watchNight(together);
    night.alarm('cond-on');
    night.alarm('cond-on', 'a2');
    night.passes(1);
    night.alarm('cond-off');
    expect(night.standing()).toBe('climbing');
    night.alarm('cond-off', 'a2');
    night.passes(9);
    expect(night.story()).toEqual(['0 call asta']);
    night.passes(1);
    expect(night.story()).toEqual(['0 call asta', '11 cleared asta']);
    expect(night.calls().at(-1)?.ways).toEqual(['push']);
    night.passes(60);
    expect(night.calls()).toHaveLength(2);
  });

  test('that hands over from one alarm to the next says nothing in between, and who is going goes on going', () => {
    const night = watchNight(together);
    night.alarm('cond-on');
    night.passes(1);
    night.answers('asta', 'going', { minutes: 20 });
    night.passes(2);
    night.alarm('cond-off');
    night.passes(4);
    night.alarm('cond-on', 'a2');
    expect(night.standing()).toBe('going');
    night.passes(22);
    expect(night.story()).toEqual(['0 call asta']);
    night.passes(2);
    expect(night.story()).toEqual(['0 call asta', '31 again asta,bela']);
  });

  test('with one alarm well and another that was seen and lasts is not said to be well', () => {
    const night = watchNight(together);
    night.alarm('cond-on');
    night.passes(1);
    night.alarm('ack');
    night.passes(2);
    night.alarm('cond-on', 'a2');
    night.passes(2);
    night.alarm('cond-off', 'a2');
    night.passes(60);
    expect(night.story()).toEqual(['0 call asta', '1 taken asta']);
  });

  test('whose news was to be told when the gateway died is told after the start, and once', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.alarm('cond-off');
    night.jumps(40);
    expect(night.story()).toEqual(['0 call asta', '10 cleared asta']);
    night.jumps(40);
    expect(night.calls()).toHaveLength(2);
  });

  test('acknowledged at the wall is quiet, until the alarm itself calls again', () => {
    const night = watchNight();
    night.alarm('cond-on');
    night.passes(1);
    night.alarm('ack');
    night.passes(30);
    night.alarm('realarm');
    expect(night.story()).toEqual(['0 call asta', '1 taken asta', '31 call asta']);
    expect(new Set(night.calls().map(({ key }) => key)).size).toBe(3);
  });

  test('a signal that comes and goes is one trouble: nobody is called from the first step each time', () => {
    const night = watchNight();
    for (let count = 0; count < 10; count += 1) {
      night.alarm('cond-on');
      night.passes(0.1);
      night.alarm('cond-off');
      night.passes(0.1);
    }
    expect(night.calls().filter(({ kind }) => kind === 'call').length).toBeLessThanOrEqual(3);
  });

  test('one alarm that hands over to the next within minutes is one trouble: the ladder goes on where it was', () => {
    const night = watchNight(together);
    night.alarm('cond-on');
    night.passes(5);
    night.alarm('cond-off');
    night.passes(5);
    night.alarm('cond-on', 'a2', { priority: 'medium' });
    night.passes(1);
    expect(night.story().at(-1)).toBe('10 call asta,bela');
  });

  test('low priority calls nobody', () => {
    const night = watchNight();
    night.alarm('cond-on', 'a1', { priority: 'low' });
    night.passes(300);
    expect(night.calls()).toEqual([]);
  });
});
