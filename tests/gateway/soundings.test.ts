import { expect, test } from 'vitest';
import type { Place } from '../../rules/place.js';
import type { Soundings } from '../../rules/wire/soundings.js';
import { gatewayRoom, type Room } from '../support/gateway-room.js';
import { NOON_MS } from '../support/hatchery.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** From 22:00 the evening before: an hour at 24 °C, two hours at 26.2 °C, then 24 °C again. */
const warmNight = (atMs: number, warmFromMs: number): number =>
  atMs >= warmFromMs && atMs < warmFromMs + 2 * HOUR_MS ? 26.2 : 24 + 0.05 * Math.sin(atMs / 300_000);

const openNight = async (): Promise<Room & { readonly fromMs: number; readonly warmFromMs: number }> => {
  const room = await gatewayRoom();
  const [fromMs, warmFromMs] = [NOON_MS - 14 * HOUR_MS, NOON_MS - 12 * HOUR_MS];
  const source = room.journal.sources.ensure({ key: 'night', topic: 'night', firstSeenMs: fromMs - HOUR_MS });
  room.journal.mappings.name(
    { sourceId: source.id, channelId: 'l2.temperature', unit: 'degC', fromMs: fromMs - HOUR_MS, ruling: true },
    'test',
    NOON_MS,
  );
  const readings = Array.from({ length: (13.5 * HOUR_MS) / 30_000 }, (_, n) => {
    const deviceMs = fromMs + n * 30_000;
    return { sourceId: source.id, deviceMs, arrivalMs: deviceMs, raw: warmNight(deviceMs, warmFromMs), flags: 0 };
  });
  const nothing = { revisions: [], alarms: [], malformed: [], boards: [], packets: [] };
  room.journal.land({ ...nothing, readings });
  return { ...room, fromMs, warmFromMs };
};

const askWith = async (room: Room, fromMs: number, limitHigh: number): Promise<Soundings> => {
  const found = await room.ask('crew', { url: '/api/v1/places/l2' });
  const place: Place = found.json().body;
  const wants = { temperature: { limitLow: 15, limitHigh, onDelayMs: 60_000, deadband: 0.2 } };
  const answer = await room.ask('crew', {
    method: 'POST',
    url: '/api/v1/places/l2/soundings',
    payload: { fromMs, toMs: NOON_MS - 30 * MINUTE_MS, place: { ...place, wants } },
  });
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json();
};

test('says how often other limits would have called somebody, and changes nothing', async () => {
  const room = await openNight();
  const before = room.journal.sequence();
  const tight = await askWith(room, room.fromMs, 25);
  const wide = await askWith(room, room.fromMs, 28);
  const limits = tight.asAsked.filter(({ finding }) => finding.line?.kind === 'limit');
  expect(limits).toHaveLength(1);
  const [warm] = limits;
  expect(warm?.atMs).toBeGreaterThanOrEqual(room.warmFromMs);
  expect(warm?.atMs).toBeLessThan(room.warmFromMs + 10 * MINUTE_MS);
  expect((warm?.endedMs ?? 0) - room.warmFromMs).toBeGreaterThanOrEqual(2 * HOUR_MS);
  expect(wide.asAsked.filter(({ finding }) => finding.line?.kind === 'limit')).toEqual([]);
  expect(tight.asSet).toEqual(wide.asSet);
  expect(tight.readings).toBe(13.5 * 120);
  expect(room.journal.sequence()).toBe(before);
  expect(room.journal.alarms.open()).toEqual([]);
});

test('declared work stands over the same readings as it did then', async () => {
  const room = await openNight();
  const work = await room.ask('crew', {
    method: 'POST',
    url: '/api/v1/log',
    payload: {
      id: '01JZ0000000000000000000000',
      atMs: room.warmFromMs - 5 * MINUTE_MS,
      kind: 'work',
      placeId: 'l2',
      fields: { work: 'drain-down', minutes: 180 },
    },
  });
  expect(work.statusCode, work.body).toBe(201);
  const answer = await askWith(room, room.fromMs, 25);
  expect(answer.asAsked.filter(({ finding }) => finding.line?.kind === 'limit')).toEqual([]);
});

test('refuses what it cannot answer, in words', async () => {
  const room = await openNight();
  const ask = async (body: object) => {
    const place = (await room.ask('crew', { url: '/api/v1/places/l2' })).json().body;
    const url = '/api/v1/places/l2/soundings';
    return room.ask('crew', { method: 'POST', url, payload: { place, ...body } });
  };
  expect((await ask({ fromMs: NOON_MS, toMs: NOON_MS - 1 })).json().detail).toContain('ends before it begins');
  expect((await ask({ fromMs: NOON_MS - 40 * 24 * HOUR_MS, toMs: NOON_MS })).json().detail).toBe(
    'Ask about at most 31 days at once.',
  );
});
