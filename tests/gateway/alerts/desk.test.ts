import { describe, expect, test } from 'vitest';
import { dead, later } from '../../../gateway/alerts/way.js';
import { openAlertRoom, type Said } from '../../support/alert-room.js';
import { MINUTE, NIGHT_MS } from '../../support/ladder-night.js';
import { PEOPLE } from '../../support/people.js';
import { emptyFolder } from '../journal/opened.js';

const clock = (atMs: number): string => new Date(atMs).toISOString().slice(11, 16);
const story = (said: readonly Said[]) => said.map(({ atMs, way, person }) => `${clock(atMs)} ${way} ${person}`);

describe('a night', () => {
  test('nobody answers: push, mail, text and ring to the one on call, then the second person, and all of it is in the log', async () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    await room.passes(11);
    expect(story(room.said)).toEqual([
      '02:10 push asta',
      '02:12 push asta',
      '02:12 email asta',
      '02:14 push asta',
      '02:14 text asta',
      '02:14 ring asta',
      '02:20 push asta',
      '02:20 text asta',
      '02:20 ring asta',
      '02:20 push bela',
      '02:20 text bela',
      '02:20 ring bela',
    ]);
    expect(room.log()).toEqual([
      '02:10:00 call Asta',
      '02:12:00 call Asta',
      '02:14:00 call Asta',
      '02:20:00 call Asta,Bela',
    ]);
  });

  test('“I am going” acknowledges every alarm of the fault, quiets the ladder, and without “I am here” she and the next are called', async () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    await room.passes(5);
    expect(room.alerts.answer('a1', { verb: 'going', by: 'asta', minutes: 20 })).toMatchObject({
      ok: true,
      value: { standing: 'going', by: 'Asta' },
    });
    expect(room.journal.alarms.byId('a1')).toMatchObject({ state: 'ack' });
    const before = room.said.length;
    await room.passes(29);
    expect(room.said).toHaveLength(before);
    await room.passes(2);
    expect(story(room.said.slice(before))).toContain('02:45 ring asta');
    expect(story(room.said.slice(before))).toContain('02:45 ring bela');
    room.alerts.answer('a1', { verb: 'there', by: 'asta' });
    const after = room.said.length;
    await room.passes(30);
    expect(room.said.slice(after).filter(({ way }) => way === 'ring')).toEqual([]);
    expect(room.log().slice(-3)).toEqual(
      ['02:45:00 again Asta,Bela', '02:46:00 there Asta', '02:46:00 taken Bela'].slice(-3),
    );
  });

  test('every message has an answer link for its person and its fault, and for no other', async () => {
    const room = openAlertRoom(emptyFolder());
    const tokens: string[] = [];
    room.answers('push', ({ token = '' }) => {
      tokens.push(token);
      return { kind: 'accepted' };
    });
    room.alarm('cond-on');
    await room.passes(0.1);
    const [token = ''] = tokens;
    expect(room.alerts.readLink(token)).toMatchObject({ faultId: 'a1', personId: 'asta' });
    const [text = '', signature = ''] = token.split('.');
    const other = Buffer.from(JSON.stringify(['a2', 'asta', NIGHT_MS * 2])).toString('base64url');
    expect(room.alerts.readLink(`${other}.${signature}`)).toBeUndefined();
    expect(room.alerts.readLink(`${text}.${signature}x`)).toBeUndefined();
    expect(room.alerts.readLink('')).toBeUndefined();
    room.clock.passes(4 * 60 * MINUTE);
    expect(room.alerts.readLink(token)).toBeUndefined();
  });
});

describe('a way that fails', () => {
  test('dead: the next step does not wait for its hour', async () => {
    const room = openAlertRoom(emptyFolder());
    room.answers('push', () => dead('subscription-gone', '410'));
    room.alarm('cond-on');
    await room.passes(0.1);
    expect(story(room.said).slice(0, 3)).toEqual(['02:10 push asta', '02:10 push asta', '02:10 email asta']);
  });

  test('without internet, the modem rings within seconds', async () => {
    const room = openAlertRoom(emptyFolder());
    for (const way of ['push', 'email', 'webhook'] as const)
      room.answers(way, () => later('no-connection', 'ENETUNREACH'));
    room.alarm('cond-on');
    await room.passes(0.2);
    expect(story(room.said)).toContain('02:10 ring asta');
  });

  test('rate-limited: not tried again before the time it asked for, and the next way goes now', async () => {
    const room = openAlertRoom(emptyFolder());
    room.answers('push', () => later('rate-limited', '429', 90_000));
    room.alarm('cond-on');
    await room.passes(1.4);
    const first = room.said.filter(({ way, key }) => way === 'push' && key.includes('step-1'));
    expect(first).toHaveLength(1);
    expect(room.said.some(({ way }) => way === 'email')).toBe(true);
    await room.passes(0.2);
    expect(room.said.filter(({ way, key }) => way === 'push' && key.includes('step-1'))).toHaveLength(2);
  });

  test('in trouble: tried again later and later, every try written down, for an hour', async () => {
    const room = openAlertRoom(emptyFolder());
    room.answers('email', () => later('server-trouble', '503'));
    room.alarm('cond-on');
    await room.passes(65);
    const [message] = room.journal.outbox
      .byFault('a1')
      .filter(({ way, label }) => way === 'email' && label === 'step-2');
    const attempts = room.journal.outbox.attemptsOf(message?.id ?? 0);
    const begun = attempts.filter(({ outcome }) => outcome === 'begun').map(({ atMs }) => atMs);
    // Half of 2, 4, 8, 16, 32, then 60 s, to the second of the tick.
    expect(begun.slice(1, 7).map((atMs, index) => Math.round((atMs - (begun[index] ?? 0)) / 1000))).toEqual([
      1, 2, 4, 8, 16, 30,
    ]);
    expect(message).toMatchObject({ state: 'dead' });
    expect(attempts.at(-1)).toMatchObject({ outcome: 'expired' });
  });

  test('a person without any of the ways of a step does not hold the ladder up', async () => {
    const [asta, ...others] = PEOPLE;
    const people = [
      {
        ...asta,
        id: 'asta',
        name: 'Asta',
        manager: false,
        ways: [{ way: 'ring' as const, address: '+15550100001', wakes: 'yes' as const }],
      },
      ...others,
    ];
    const room = openAlertRoom(emptyFolder(), { people });
    room.alarm('cond-on');
    await room.passes(0.2);
    expect(story(room.said)).toEqual(['02:10 ring asta']);
  });
});

describe('a gateway that dies', () => {
  test('between the decision and the send: the message is sent after the start', async () => {
    const folder = emptyFolder();
    const first = openAlertRoom(folder, { sends: false });
    first.alarm('cond-on');
    expect(first.said).toEqual([]);
    first.dies();
    const second = openAlertRoom(folder, { startMs: NIGHT_MS + 5_000 });
    await second.passes(1.1);
    expect(story(second.said)).toEqual(['02:10 push asta']);
  });

  test('while sending, or just after: not sent again within the minute, and then once', async () => {
    const folder = emptyFolder();
    const first = openAlertRoom(folder);
    first.answers('push', () => new Promise(() => undefined));
    first.alarm('cond-on');
    expect(first.said).toHaveLength(1);
    first.dies();
    const second = openAlertRoom(folder, { startMs: NIGHT_MS + 5_000 });
    await second.passes(0.9);
    expect(second.said).toEqual([]);
    await second.passes(0.1);
    expect(story(second.said)).toEqual(['02:11 push asta']);
  });

  test('and starts again: what was sent is not sent again, and the ladder goes on where it was', async () => {
    const folder = emptyFolder();
    const first = openAlertRoom(folder);
    first.alarm('cond-on');
    await first.passes(3);
    first.dies();
    const second = openAlertRoom(folder, { startMs: NIGHT_MS + 3.5 * MINUTE });
    await second.passes(1);
    expect(story(second.said)).toEqual(['02:14 push asta', '02:14 text asta', '02:14 ring asta']);
  });

  test('for hours: one call of all that was missed, to each person and way once', async () => {
    const folder = emptyFolder();
    const first = openAlertRoom(folder);
    first.alarm('cond-on');
    await first.passes(1);
    first.dies();
    const second = openAlertRoom(folder, { startMs: NIGHT_MS + 90 * MINUTE });
    await second.passes(0.1);
    const lines = second.said.map(({ way, person }) => `${way} ${person}`);
    expect(new Set(lines).size).toBe(lines.length);
    expect(lines).toContain('ring cora');
  });

  test('while somebody is going: she is not called before her time, and is after it', async () => {
    const folder = emptyFolder();
    const first = openAlertRoom(folder);
    first.alarm('cond-on');
    await first.passes(1);
    first.alerts.answer('a1', { verb: 'going', by: 'asta', minutes: 20 });
    first.dies();
    const second = openAlertRoom(folder, { startMs: NIGHT_MS + 10 * MINUTE });
    await second.passes(20);
    expect(second.said).toEqual([]);
    await second.passes(2);
    expect(story(second.said)).toContain('02:41 ring asta');
  });
});

describe('time and people', () => {
  test('a clock set back by an hour delays nothing', async () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    await room.passes(1);
    room.clock.isSet(NIGHT_MS - 59 * MINUTE);
    await room.passes(2);
    expect(room.said.map(({ way }) => way)).toEqual(['push', 'push', 'email']);
  });

  test('a clock set forward by an hour makes what is next due now, once, and no step is rung through', async () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    await room.passes(1);
    const before = room.said.length;
    room.clock.passes(3_600_000);
    await room.passes(0.1);
    const now = room.said.slice(before).map(({ way, person }) => `${way} ${person}`);
    expect(new Set(now).size).toBe(now.length);
    expect(room.log().filter((line) => line.includes(' call '))).toHaveLength(2);
  });

  test('a gateway that starts an hour earlier by its clock calls nobody again for what it called', async () => {
    const folder = emptyFolder();
    const before = openAlertRoom(folder);
    before.alarm('cond-on');
    await before.passes(1);
    before.dies();
    const after = openAlertRoom(folder, { startMs: before.clock.now() - 3_600_000 });
    await after.passes(0.5);
    expect(after.said).toEqual([]);
    await after.passes(2);
    expect(after.said.map(({ way, person }) => `${way} ${person}`).sort()).toEqual(['email asta', 'push asta']);
  });

  test('two people who answer at once are both heard', async () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    await room.passes(11);
    expect(room.alerts.answer('a1', { verb: 'going', by: 'asta', minutes: 20 }).ok).toBe(true);
    expect(room.alerts.answer('a1', { verb: 'going', by: 'bela', minutes: 40 })).toMatchObject({
      ok: true,
      value: { by: 'Bela' },
    });
    expect(room.log().filter((line) => line.includes('going'))).toHaveLength(2);
  });

  test('five hundred faults in a minute give one person a handful of messages, worst first', async () => {
    const tanks = Array.from({ length: 500 }, (_, index) => ({
      id: `t${index}`,
      kind: 'tank' as const,
      name: `T${index}`,
      order: index,
    }));
    const room = openAlertRoom(emptyFolder(), { tanks });
    for (let count = 0; count < 500; count += 1) {
      const placeId = `t${count}`;
      room.alarm('cond-on', `a${count}`, {
        placeId,
        channelId: `${placeId}.temperature`,
        priority: count === 499 ? 'high' : 'medium',
      });
      if (count % 10 === 9) await room.passes(1 / 60);
    }
    await room.passes(6);
    const pushes = room.said.filter(({ way, person }) => way === 'push' && person === 'asta');
    expect(pushes.length).toBeLessThanOrEqual(6);
    expect(pushes[0]?.title).toContain('T499');
  });

  test('an answer for a fault that is none, or by somebody unknown, is refused', () => {
    const room = openAlertRoom(emptyFolder());
    room.alarm('cond-on');
    expect(room.alerts.answer('a7', { verb: 'going', by: 'asta' })).toMatchObject({ fault: { code: 'no-such-fault' } });
    expect(room.alerts.answer('a1', { verb: 'going', by: 'dora' })).toMatchObject({
      fault: { code: 'no-such-person' },
    });
  });
});
