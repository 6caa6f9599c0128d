import { describe, expect, test } from 'vitest';
import { FAULTS, type FaultCode, problem } from '../../../gateway/http/faults.js';
import { gatewayRoom } from '../../support/gateway-room.js';

const CODES = Object.keys(FAULTS) as FaultCode[];

describe('every fault of the API', () => {
  test.each(CODES)('%s has a status of an error, and a sentence that ends like one', (code) => {
    const { status, title, detail, type, fault } = problem(code);
    expect(status).toBeGreaterThanOrEqual(400);
    expect(title).not.toBe('Error');
    expect(detail).toMatch(/^[A-Z“].*[.}]$/);
    // [RFC 9457 4.2.1] about:blank says that the title is the status's own phrase.
    expect({ type, fault }).toEqual({ type: 'about:blank', fault: code });
  });

  test('has a sentence of its own', () => {
    expect(new Set(CODES.map((code) => FAULTS[code].sentence)).size).toBe(CODES.length);
  });
});

type Wrong = readonly [
  what: string,
  method: 'GET' | 'POST' | 'PUT',
  url: string,
  body: object | string | undefined,
  detail: RegExp,
  pointer?: string,
];

const TANK = { kind: 'tank', name: 'L5' };

/** What a person or program sends wrongly, and what it is told. */
const WRONG: readonly Wrong[] = [
  [
    'an unknown field',
    'POST',
    '/places',
    { ...TANK, colour: 'blue' },
    /“colour” is not known here\. Take it away/,
    '/colour',
  ],
  ['a field mistyped', 'POST', '/places', { ...TANK, volumL: 5 }, /Did you mean “volumeL”\?/, '/volumL'],
  ['a missing field', 'POST', '/places', { kind: 'tank' }, /“name” is missing: add it\./, '/name'],
  ['a text for a number', 'POST', '/places', { ...TANK, volumeL: '200' }, /"200" must be a number\./, '/volumeL'],
  ['a word not of the list', 'POST', '/places', { ...TANK, stage: 'larvae' }, /Did you mean “larva”\?/, '/stage'],
  [
    'a number out of bounds',
    'POST',
    '/places',
    { ...TANK, volumeL: 0 },
    /0 is too small: it must be above 0\./,
    '/volumeL',
  ],
  ['an impossible id', 'POST', '/places', { ...TANK, id: 'L 5' }, /"L 5" is not an id: lower-case letters/, '/id'],
  [
    'a place without a useful name',
    'POST',
    '/places',
    { kind: 'tank', name: '***' },
    /needs at least one letter or digit/,
  ],
  [
    'a line that is not there',
    'POST',
    '/places',
    { ...TANK, lineId: 'larval-lines' },
    /There is no supply line “larval-lines”\. Did you mean “larval-line”\?/,
    '/lineId',
  ],
  ['a tank as a line', 'POST', '/places', { ...TANK, lineId: 'l2' }, /“l2” is no supply line\./, '/lineId'],
  ['a name that is taken', 'POST', '/places', { kind: 'tank', name: 'l2' }, /The name “l2” is taken by l2/, '/name'],
  ['an id that is taken', 'POST', '/places', { ...TANK, id: 'l2' }, /There is a place “l2” already/],
  [
    'limits crossed over',
    'POST',
    '/places',
    { ...TANK, wants: { temperature: { targetHigh: 30, limitHigh: 29 } } },
    /Temperature: “limit, high” is 29 °C, and must be above “target, to”, which is 30 °C\./,
    '/wants/temperature/limitHigh',
  ],
  [
    'an unknown species group',
    'POST',
    '/places',
    { ...TANK, speciesGroup: 'hard-clams' },
    /Did you mean “hard-clam”\?/,
    '/speciesGroup',
  ],
  ['a list for an object', 'POST', '/places', [], /\[\] must be an object/, ''],
  ['broken JSON', 'POST', '/places', '{"kind":', /not JSON/],
  [
    'a unit of another quantity',
    'POST',
    '/sources/2/mapping',
    { place: { id: 'l2' }, quantity: 'salinity', unit: 'ppm' },
    /“ppm” is not a unit of salinity that is understood: choose one of 1, ppt, psu/,
  ],
  [
    'a place that is not there',
    'POST',
    '/sources/2/mapping',
    { place: { id: 'l9' }, quantity: 'salinity', unit: 'ppt' },
    /There is no place “l9”\./,
  ],
  [
    'a place by id and name at once',
    'POST',
    '/sources/2/mapping',
    { place: { id: 'l2', name: 'L2' }, quantity: 'salinity', unit: 'ppt' },
    /exactly one of: id; or name with lineId/,
    '/place',
  ],
  [
    'a source that never was',
    'POST',
    '/sources/99/mapping',
    { place: { id: 'l2' }, quantity: 'salinity', unit: 'ppt' },
    /No board ever sent a source with the number 99/,
  ],
  ['a slope of nothing', 'POST', '/sources/1/calibration', { slope: 0, offset: 0 }, /must be above 0/, '/slope'],
  [
    'a span that ends before it begins',
    'GET',
    '/channels/l2.temperature/readings?from=2000&to=1000',
    undefined,
    /“from” must lie before “to”/,
  ],
  [
    'a time without its offset',
    'GET',
    '/channels/l2.temperature/readings?from=2030-05-01T03:05&to=9',
    undefined,
    /is not a moment: milliseconds since 1970, or ISO 8601 with its offset/,
    '/from',
  ],
  [
    'too many points',
    'GET',
    '/channels/l2.temperature/readings?from=1&to=9&points=100000',
    undefined,
    /at most 10000/,
    '/points',
  ],
  [
    'an unknown word in the address',
    'GET',
    '/trails?hour=3',
    undefined,
    /In the address: “hour” is not known here\. Did you mean “hours”\?/,
    '/hour',
  ],
  [
    'a channel that is not there',
    'GET',
    '/channels/l2.ph/readings?from=1&to=9',
    undefined,
    /There is no channel “l2\.ph”/,
  ],
  ['a channel that cannot be', 'GET', '/channels/..%2F..%2Fetc/readings?from=1&to=9', undefined, /There is no channel/],
  ['alarms of no such state', 'GET', '/alarms?state=closed', undefined, /"closed" is not one of open, ended/, '/state'],
  ['an alarm that is not there', 'POST', '/alarms/a9/acknowledgement', {}, /This alarm is not open/],
  ['shelving into the past', 'POST', '/alarms/a9/shelving', { untilMs: 5, reason: 'x' }, /“untilMs” lies in the past/],
  ['an address that is not there', 'GET', '/tank', undefined, /There is nothing at GET \/api\/v1\/tank/],
  [
    'a change without its version',
    'PUT',
    '/places/l2',
    { ...TANK, id: 'l2', order: 0 },
    /send its ETag back in If-Match/,
  ],
  [
    'a weak passphrase',
    'POST',
    '/accounts',
    { name: 'Bo', role: 'crew', passphrase: 'short' },
    /at least 10 characters/,
  ],
];

describe('what is sent wrongly is told in a sentence', () => {
  test('with its place and how to mend it', async () => {
    const room = await gatewayRoom();
    for (const [what, method, url, body, detail, pointer] of WRONG) {
      const headers = body === undefined ? {} : { 'content-type': 'application/json' };
      const payload = body === undefined ? {} : { payload: typeof body === 'string' ? body : JSON.stringify(body) };
      const reply = await room.ask('manager', { method, url: `/api/v1${url}`, headers, ...payload });
      expect(reply.headers['content-type'], what).toMatch(/^application\/problem\+json/);
      const told = reply.json<{ status: number; detail: string; faults?: { pointer: string }[] }>();
      expect(reply.statusCode, what).toBe(told.status);
      expect(reply.statusCode, what).toBeGreaterThanOrEqual(400);
      expect(told.detail, what).toMatch(detail);
      if (pointer !== undefined)
        expect(
          told.faults?.map((each) => each.pointer),
          what,
        ).toContain(pointer);
    }
    expect(room.complaints).toEqual([]);
    expect(room.desk.site().places).toHaveLength(2);
  });

  test('all faults of a form at once, not the first alone', async () => {
    const room = await gatewayRoom();
    const payload = { kind: 'tanks', name: '', volumeL: -1, colour: 'blue' };
    const { faults } = (await room.ask('manager', { method: 'POST', url: '/api/v1/places', payload })).json();
    expect(faults.map((each: { pointer: string }) => each.pointer).sort()).toEqual([
      '/colour',
      '/kind',
      '/name',
      '/volumeL',
    ]);
  });

  test('a form or plain text, as other pages can send it, is not taken', async () => {
    const room = await gatewayRoom();
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x']) {
      const options = {
        method: 'POST',
        url: '/api/v1/places',
        headers: { 'content-type': type },
        payload: '{}',
      } as const;
      expect((await room.ask('manager', options)).statusCode).toBe(415);
    }
  });

  test('what is our own fault is said as such, and told to the console', async () => {
    const room = await gatewayRoom({
      history: {
        readings: async () => {
          throw new Error('a bug');
        },
        trails: async () => ({ fromMs: 0, toMs: 0, stepMs: 1, trails: {} }),
        rows: async function* () {},
        review: async () => Promise.reject(new Error('a bug')),
        close: async () => {},
      },
    });
    const reply = await room.ask('viewer', { url: '/api/v1/channels/l2.temperature/readings?from=1&to=9' });
    expect(reply.json()).toMatchObject({ status: 500, fault: 'broken' });
    expect(reply.body).not.toContain('a bug');
    expect(room.complaints).toEqual([expect.stringContaining('a bug')]);
  });
});
