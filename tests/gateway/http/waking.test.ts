import { describe, expect, test } from 'vitest';
import { buildReports } from '../../../gateway/alerts/report.js';
import { openWaking } from '../../../gateway/alerts/waking.js';
import type { AppParts } from '../../../gateway/http/parts.js';
import { DEFAULT_POLICIES } from '../../../rules/alerts/policy.js';
import { NO_WATCH } from '../../../rules/alerts/watch-plan.js';
import { type Problem, ROLES, type Role } from '../../../rules/wire/api.js';
import { gatewayRoom, openTestJournal, pretendHistory, type Room } from '../../support/gateway-room.js';
import { alarmPictured } from '../../support/ladder-night.js';
import { PEOPLE } from '../../support/people.js';

const PLAN = {
  ...NO_WATCH,
  shifts: [1, 2, 3, 4, 5, 6, 7].map((weekday) => ({
    weekday,
    fromMinute: 0,
    minutes: 1_440,
    role: 'on-call' as const,
    personId: 'asta',
  })),
};

/** A gateway with its waking, and people set through the API itself. */
const wakingRoom = async (more: { readonly historyAwayMs?: number } = {}): Promise<Room> => {
  const late: { room?: Room } = {};
  const state = () => {
    if (late.room === undefined) throw new Error('not yet');
    return late.room.watch.state();
  };
  const journal = openTestJournal();
  const clock = { now: () => late.room?.clock.now() ?? 0, every: () => () => undefined };
  const waking = openWaking({
    journal,
    clock,
    state,
    tell: () => undefined,
    site: 'wrack-cove',
    publicUrl: 'https://water.example',
    historyAwaySinceMs: () => (more.historyAwayMs === undefined ? undefined : clock.now() - more.historyAwayMs),
  });
  const reports = buildReports({
    journal,
    history: pretendHistory(),
    state,
    now: clock.now,
    overdue: () => [],
    lacks: waking.desk.lacks,
  });
  const parts: Partial<AppParts> = { waking: { ...waking, reports } };
  const room = await gatewayRoom(parts);
  late.room = room;
  for (const person of PEOPLE)
    await room.ask('manager', {
      method: 'PUT',
      url: `/api/v1/people/${person.id}`,
      payload: person,
      headers: { 'if-match': '"0"' },
    });
  await room.ask('crew', { method: 'PUT', url: '/api/v1/watch', payload: PLAN, headers: { 'if-match': '"0"' } });
  const alarm = alarmPictured('a1', clock.now());
  waking.alerts.land(
    [
      {
        do: 'alarm',
        atMs: clock.now(),
        event: 'cond-on',
        deeds: ['start-escalation'],
        alarm: { ...alarm, life: { core: 'unack', inhibits: [] } },
      },
    ],
    room.watch.state(),
  );
  waking.alerts.landed();
  return { ...room, parts: { ...room.parts, ...parts } };
};

const MATRIX = [
  ['viewer', 'GET', '/faults'],
  ['viewer', 'GET', '/faults/a1/story'],
  ['crew', 'POST', '/faults/a1/going'],
  ['crew', 'POST', '/faults/a1/there'],
  ['crew', 'POST', '/faults/a1/pass-on'],
  ['crew', 'POST', '/faults/a1/safe'],
  ['crew', 'PUT', '/faults/a1/real'],
  ['nobody', 'POST', '/answers'],
  ['nobody', 'GET', '/answers'],
  ['crew', 'GET', '/people'],
  ['manager', 'PUT', '/people/x'],
  ['manager', 'DELETE', '/people/x'],
  ['crew', 'PUT', '/people/x/tried'],
  ['viewer', 'GET', '/watch'],
  ['crew', 'PUT', '/watch'],
  ['viewer', 'GET', '/watch/now'],
  ['crew', 'GET', '/watch/numbers'],
  ['viewer', 'GET', '/ladders'],
  ['manager', 'PUT', '/ladders'],
  ['manager', 'GET', '/delivery'],
  ['manager', 'PUT', '/delivery'],
  ['manager', 'POST', '/delivery/tests'],
  ['viewer', 'GET', '/push/key'],
  ['manager', 'POST', '/push/key'],
  ['crew', 'POST', '/push/subscriptions'],
  ['crew', 'DELETE', '/push/subscriptions'],
  ['crew', 'POST', '/drills'],
  ['viewer', 'GET', '/reports/morning'],
  ['viewer', 'GET', '/reports/season'],
  ['manager', 'GET', '/reports/alarms'],
  ['crew', 'POST', '/reports/missed'],
] as const satisfies readonly (readonly [Role | 'nobody', string, string])[];

test('every address about waking lets in the role that it needs and those above, and nobody below', async () => {
  const room = await wakingRoom();
  const askers = ['nobody', ...ROLES] as const;
  for (const [needs, method, url] of MATRIX) {
    for (const who of askers) {
      const { statusCode } = await room.ask(who, { method, url: `/api/v1${url}` });
      const refusal = who === 'nobody' ? 401 : 403;
      const line = `${who} asks ${method} ${url}`;
      if (askers.indexOf(who) < askers.indexOf(needs)) expect(statusCode, line).toBe(refusal);
      else expect(statusCode, line).not.toBe(refusal);
      expect(statusCode, line).toBeLessThan(500);
    }
  }
  const { paths } = (await room.ask('nobody', { url: '/api/v1/openapi.json' })).json<{
    paths: Record<string, object>;
  }>();
  const known = MATRIX.map(([, method, url]) => `${method} ${url.replace(/\/(a1|x)\b/, '/{id}')}`);
  const described = Object.entries(paths).flatMap(([path, operations]) =>
    Object.keys(operations).map((method) => `${method.toUpperCase()} ${path.replace('/api/v1', '')}`),
  );
  expect(described).toEqual(expect.arrayContaining(known));
  expect(room.complaints).toEqual([]);
});

describe('answering', () => {
  test('“I am going” is written to the person who presses, and says until when', async () => {
    const room = await wakingRoom();
    const { statusCode, json } = await room.ask('crew', {
      method: 'POST',
      url: '/api/v1/faults/a1/going',
      payload: { minutes: 40, by: 'asta' },
    });
    expect(statusCode).toBe(200);
    expect(json()).toMatchObject({ standing: 'going', by: 'Asta', untilMs: room.clock.now() + 40 * 60_000 });
  });

  test('a screen signed in as nobody on the list is asked who it is', async () => {
    const room = await wakingRoom();
    const answer = await room.ask('crew', { method: 'POST', url: '/api/v1/faults/a1/going', payload: { minutes: 20 } });
    expect(answer.json()).toMatchObject({ fault: 'not-a-person' });
  });

  test('nothing but 20, 40 or 60 minutes is understood', async () => {
    const room = await wakingRoom();
    const answer = await room.ask('crew', {
      method: 'POST',
      url: '/api/v1/faults/a1/going',
      payload: { minutes: 500 },
    });
    expect(answer.statusCode).toBe(400);
  });

  test('a link that was changed opens nothing', async () => {
    const room = await wakingRoom();
    const answer = await room.ask('nobody', {
      method: 'POST',
      url: '/api/v1/answers',
      payload: { token: 'abc.def', verb: 'going', minutes: 20 },
    });
    expect(answer.json()).toMatchObject({ status: 401, fault: 'link-not-good' });
  });
});

describe('people and the watch', () => {
  test('a person’s change names the version that was seen', async () => {
    const room = await wakingRoom();
    const again = await room.ask('manager', {
      method: 'PUT',
      url: '/api/v1/people/asta',
      payload: PEOPLE[0] ?? {},
      headers: { 'if-match': '"0"' },
    });
    expect(again.statusCode).toBe(412);
  });

  test('what cannot work is refused in a sentence that says how to mend it', async () => {
    const room = await wakingRoom();
    const put = async (url: string, payload: object, version: number) => {
      const headers = { 'if-match': `"${version}"` };
      return (await room.ask('manager', { method: 'PUT', url: `/api/v1${url}`, payload, headers })).json().detail;
    };
    const [asta] = PEOPLE;
    const text = { way: 'text', address: '0100 0001', wakes: 'no' };
    expect(await put('/people/asta', { ...asta, ways: [text] }, 1)).toMatch(
      /“0100 0001” is no telephone number.*country/,
    );
    const swap = { fromMs: 5, toMs: 5, role: 'on-call', personId: 'asta' };
    expect(await put('/watch', { ...PLAN, swaps: [swap] }, 1)).toMatch(/must end after it begins/);
    expect(await put('/watch', { ...PLAN, swaps: [{ ...swap, toMs: 9, personId: 'zoe' }] }, 1)).toMatch(
      /“zoe” is nobody/,
    );
    const { high } = DEFAULT_POLICIES.night;
    const ladders = { ...DEFAULT_POLICIES, night: { high: { ...high, stopAfterMs: 60_000 } } };
    expect(await put('/ladders', ladders, 0)).toMatch(/night, high priority: it must not stop before its last step/);
    expect(await put('/delivery', { webhook: { keyId: 'k' } }, 0)).toMatch(/no signing key yet/);
  });

  test('who is to be telephoned stands in the order of calling, the emergency contact last', async () => {
    const room = await wakingRoom();
    const emergency = { name: 'The neighbour', phone: '+1 555 010 0199' };
    const payload = { ...PLAN, emergency };
    await room.ask('crew', { method: 'PUT', url: '/api/v1/watch', payload, headers: { 'if-match': '"1"' } });
    const numbers = (await room.ask('crew', { url: '/api/v1/watch/numbers' })).json();
    expect(numbers.map(({ name }: { name: string }) => name)).toEqual(['Asta', 'Cora', 'Bela', 'The neighbour']);
    expect(numbers[0].phone).toBe('+15550100001');
  });

  test('who cannot be reached now is told, and that nobody is on call', async () => {
    const room = await wakingRoom();
    const now = (await room.ask('viewer', { url: '/api/v1/watch/now' })).json();
    expect(now).toMatchObject({ onCall: ['Asta'], backup: [], gaps: [], noWayToAnswer: false });
    await room.ask('crew', { method: 'PUT', url: '/api/v1/watch', payload: NO_WATCH, headers: { 'if-match': '"1"' } });
    expect((await room.ask('viewer', { url: '/api/v1/watch/now' })).json().gaps).toHaveLength(1);
  });

  test('a drill makes a message for each person and way, and the answer says whether it wakes', async () => {
    const room = await wakingRoom();
    const drill = await room.ask('crew', { method: 'POST', url: '/api/v1/drills', payload: { people: ['asta'] } });
    expect(drill.json()).toMatchObject({ messages: 4 });
    await room.ask('crew', { method: 'PUT', url: '/api/v1/people/asta/tried', payload: { way: 'push', wakes: 'no' } });
    const [asta] = (await room.ask('crew', { url: '/api/v1/people' })).json();
    expect(asta.ways[0]).toMatchObject({ way: 'push', wakes: 'no', triedMs: room.clock.now() });
  });

  test('who did not answer for a test call stands under “not watched” an hour later, by each way', async () => {
    const room = await wakingRoom();
    await room.ask('crew', { method: 'POST', url: '/api/v1/drills', payload: { people: ['asta'] } });
    for (const way of ['push', 'email', 'ring'])
      await room.ask('crew', { method: 'PUT', url: '/api/v1/people/asta/tried', payload: { way, wakes: 'yes' } });
    const unanswered = async () =>
      (await room.ask('viewer', { url: '/api/v1/watch/now' }))
        .json()
        .lacks.filter(({ kind }: { kind: string }) => kind === 'drill-unanswered');
    expect(await unanswered()).toEqual([]);
    room.clock.passes(3_600_001);
    expect(await unanswered()).toMatchObject([{ name: 'Asta', ways: ['text'] }]);
    const report = (await room.ask('viewer', { url: '/api/v1/reports/morning' })).json();
    expect(report.lacks).toContainEqual(expect.objectContaining({ kind: 'drill-unanswered', name: 'Asta' }));
  });

  test('ways that people have and the site has not are told', async () => {
    const room = await wakingRoom();
    const { lacks } = (await room.ask('viewer', { url: '/api/v1/watch/now' })).json();
    expect(lacks).toContainEqual({ kind: 'way-not-set-up', way: 'text', names: ['Asta', 'Bela', 'Cora'] });
    expect(lacks).toContainEqual({ kind: 'no-phone', personId: 'asta', name: 'Asta' });
  });

  test('a history database that has taken nothing for six hours is on the list, one that restarts is not', async () => {
    const away = async (historyAwayMs: number) => {
      const room = await wakingRoom({ historyAwayMs });
      const { lacks } = (await room.ask('viewer', { url: '/api/v1/watch/now' })).json();
      return lacks.filter(({ kind }: { kind: string }) => kind === 'history-away');
    };
    expect(await away(6 * 3_600_000 - 1)).toEqual([]);
    expect(await away(6 * 3_600_000)).toEqual([{ kind: 'history-away', sinceMs: expect.any(Number) }]);
  });

  test('a test is sent at once, and what became of it is said', async () => {
    const room = await wakingRoom();
    const tries = async (payload: object) =>
      (await room.ask('manager', { method: 'POST', url: '/api/v1/delivery/tests', payload })).json();
    expect(await tries({ what: 'email', personId: 'asta' })).toEqual({ taken: false, code: 'not-set-up' });
    expect(await tries({ what: 'push', personId: 'asta' })).toEqual({ taken: false, code: 'no-subscription' });
    expect(await tries({ what: 'webhook', personId: 'asta' })).toMatchObject({ fault: 'no-such-way' });
    expect(await tries({ what: 'lamp' })).toEqual({ taken: false, code: 'lamp-away' });
    expect(await tries({ what: 'check-in' })).toEqual({ taken: false, code: 'not-set-up' });
  });

  test('a new push key takes every phone away, and says how many', async () => {
    const room = await wakingRoom();
    const key = async () => (await room.ask('viewer', { url: '/api/v1/push/key' })).json().publicKey;
    const before = await key();
    const payload = {
      endpoint: 'https://push.example/1',
      keys: { p256dh: 'x', auth: 'y' },
      device: 'p',
      personId: 'asta',
    };
    await room.ask('crew', { method: 'POST', url: '/api/v1/push/subscriptions', payload });
    expect((await room.ask('manager', { method: 'POST', url: '/api/v1/push/key' })).json()).toEqual({ phones: 1 });
    expect(await key()).not.toBe(before);
    expect((await room.ask('crew', { url: '/api/v1/people' })).json()[0].phones).toEqual([]);
  });

  test('passwords go in and never come out, and are kept only for the same server', async () => {
    const room = await wakingRoom();
    const email = {
      host: 'mail.wrack-cove.example',
      port: 587,
      security: 'starttls',
      from: 'a@b.example',
      user: 'watch',
    };
    const put = (payload: object, version: number) =>
      room.ask('manager', { method: 'PUT', url: '/api/v1/delivery', payload, headers: { 'if-match': `"${version}"` } });
    expect((await put({ email: { ...email, password: 'hidden-word' } }, 0)).body).not.toContain('hidden-word');
    await put({ email: { ...email, from: 'c@b.example' } }, 1);
    const kept = await room.ask('manager', { url: '/api/v1/delivery' });
    expect(kept.body).not.toContain('hidden-word');
    expect(kept.json().body.kept).toEqual({ password: true, secret: false, pin: false });
    const elsewhere = await put({ email: { ...email, host: 'other.example' } }, 2);
    expect(elsewhere.json().detail).toMatch(/a user and no password: write the password too/);
  });
});

describe('reports', () => {
  test('the morning report has the night’s tanks, the wakings and what is not watched', async () => {
    const room = await wakingRoom();
    room.clock.passes(120_000);
    room.parts.waking?.alerts.tick();
    room.clock.passes(1_000);
    const report = (await room.ask('viewer', { url: '/api/v1/reports/morning' })).json();
    expect(report.rows[0]).toMatchObject({ placeId: 'l2' });
    expect(report.wakings[0]).toMatchObject({ faultId: 'a1' });
  });

  test('“was it real?” is asked of each waking, and the season counts the answers', async () => {
    const room = await wakingRoom();
    expect(
      (await room.ask('crew', { method: 'PUT', url: '/api/v1/faults/a1/real', payload: { real: true } })).statusCode,
    ).toBe(204);
    const season = (await room.ask('viewer', { url: '/api/v1/reports/season' })).json();
    expect(season).toMatchObject({ missed: 0 });
    expect(
      (await room.ask('crew', { method: 'PUT', url: '/api/v1/faults/zz/real', payload: { real: true } })).statusCode,
    ).toBe(404);
  });
});

describe('a form about people or the watch that is filled in wrongly', () => {
  const ASTA = { id: 'x', name: 'Asta', manager: false, ways: [] };
  const shift = { weekday: 1, fromMinute: 0, minutes: 60, role: 'on-call', personId: 'asta' };
  /** Where it is sent, what, where the fault lies, and the word that the form has for it. */
  const WRONG: readonly (readonly [url: string, payload: object, pointer: string, sentence: RegExp])[] = [
    ['/people/x', { ...ASTA, name: '' }, '/name', /^Name: "" is too short/],
    ['/people/x', { ...ASTA, name: undefined }, '/name', /^Name: .* is missing/],
    ['/people/x', { ...ASTA, manager: 'maybe' }, '/manager', /^May be called as a manager: "maybe" must be/],
    ['/people/x', { ...ASTA, phone: 555 }, '/phone', /^Phone number: 555 must be a text/],
    ['/people/x', { ...ASTA, ways: [{ way: 'owl', address: '', wakes: 'no' }] }, '/ways/0/way', /^Way to be reached: /],
    ['/watch', { ...PLAN, shifts: [{ ...shift, weekday: 9 }] }, '/shifts/0/weekday', /^Day: 9 is too large: at most 7/],
    ['/watch', { ...PLAN, shifts: [{ ...shift, minutes: 0 }] }, '/shifts/0/minutes', /^For so long: 0 is too small/],
    ['/watch', { ...PLAN, dayFromMinute: 'dawn' }, '/dayFromMinute', /^The day begins: "dawn" must be/],
    ['/watch', { ...PLAN, drill: { weekday: 1 } }, '/drill/minute', /^Time of the test call: .* is missing/],
  ];

  test('says at its field, by its name, what is wrong, and applies nothing', async () => {
    const room = await wakingRoom();
    const before = room.journal.sequence();
    for (const [url, payload, pointer, sentence] of WRONG) {
      const headers = { 'if-match': '"0"' };
      const answer = await room.ask('manager', { method: 'PUT', url: `/api/v1${url}`, payload, headers });
      const line = `${url} ${JSON.stringify(payload)}: ${answer.body}`;
      expect(answer.statusCode, line).toBe(400);
      expect(answer.headers['content-type'], line).toMatch(/^application\/problem\+json/);
      const { faults } = answer.json<Problem>();
      expect(faults?.find((one) => one.pointer === pointer)?.detail, line).toMatch(sentence);
    }
    expect(room.journal.sequence()).toBe(before);
  });
});
