import { describe, expect, test } from 'vitest';
import type { RetiredPlace } from '../../../rules/wire/api.js';
import { begun, diary } from '../../rules/log/diary.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { NOON_MS } from '../../support/hatchery.js';

const HOUR = 3_600_000;
const pen = diary(NOON_MS - 3 * HOUR);
const post = (room: Room, url: string, payload: object, who: 'crew' | 'manager' = 'manager') =>
  room.ask(who, { method: 'POST', url: `/api/v1${url}`, payload });
const add = async (room: Room, place: object): Promise<{ readonly id: string; readonly version: number }> => {
  const made = await post(room, '/places', place);
  expect(made.statusCode, made.body).toBe(201);
  const { body, version } = made.json<{ body: { id: string }; version: number }>();
  return { id: body.id, version };
};
const takeOut = (room: Room, id: string, version: number) =>
  room.ask('manager', { method: 'DELETE', url: `/api/v1/places/${id}`, headers: { 'if-match': `"${version}"` } });

describe('taking a place out', () => {
  test('an empty tank leaves the list, and its past stays readable under its address', async () => {
    const room = await gatewayRoom();
    const { id, version } = await add(room, { kind: 'tank', name: 'L9', order: 9 });
    const { by: _, ...note } = pen.write('note', id, { words: 'cracked' }, { atMs: NOON_MS - HOUR });
    expect((await post(room, '/log', note, 'crew')).statusCode).toBe(201);
    expect((await takeOut(room, id, version)).statusCode).toBe(204);
    expect((await room.ask('viewer', { url: `/api/v1/places/${id}` })).statusCode).toBe(404);
    expect(room.journal.settings.history('place', id).map(({ body }) => body === null)).toEqual([false, true]);
    const log = await room.ask('viewer', { url: `/api/v1/log?place=${id}&from=${NOON_MS - 2 * HOUR}` });
    expect(log.json()).toHaveLength(1);
    // It may come back, and then goes on from what it was.
    expect((await add(room, { id, kind: 'tank', name: 'L9', order: 9 })).version).toBe(3);
  });

  test('it is listed as taken out, with the channels it had, until it comes back', async () => {
    const room = await gatewayRoom();
    const list = async () =>
      (await room.ask('viewer', { url: '/api/v1/retired-places' })).json<readonly RetiredPlace[]>();
    const { id, version } = await add(room, { kind: 'tank', name: 'L9', order: 9 });
    for (const [quantity, unit] of [
      ['temperature', 'degC'],
      ['conductivity', 'mS/cm'],
    ] as const) {
      const { id: sourceId } = room.journal.sources.ensure({ key: quantity, topic: quantity, firstSeenMs: NOON_MS });
      const channelId = `${id}.${quantity}`;
      const named = { sourceId, channelId, unit, fromMs: NOON_MS - HOUR, ruling: true };
      room.journal.mappings.name(named, 'Ines', NOON_MS - HOUR);
    }
    expect(await list()).toEqual([]);
    room.clock.passes(HOUR);
    expect((await takeOut(room, id, version)).statusCode).toBe(204);
    expect(await list()).toMatchObject([
      {
        ...{ id, name: 'L9', kind: 'tank', retiredMs: NOON_MS + HOUR },
        channels: [
          { id: `${id}.temperature`, quantity: 'temperature', computed: false },
          { id: `${id}.conductivity`, quantity: 'conductivity', computed: false },
          { id: `${id}.salinity~computed`, quantity: 'salinity', computed: true },
        ],
      },
    ]);
    // Its readings can still be asked for, and a review begun about the time when it was there.
    const span = `from=${NOON_MS - HOUR}&to=${NOON_MS}`;
    expect((await room.ask('viewer', { url: `/api/v1/channels/${id}.temperature/readings?${span}` })).statusCode).toBe(
      200,
    );
    expect((await add(room, { id, kind: 'tank', name: 'L9', order: 9 })).id).toBe(id);
    expect(await list()).toEqual([]);
  });

  test('is refused with a sentence while animals are in it, work is declared, or something hangs on it', async () => {
    const room = await gatewayRoom();
    const line = await add(room, { kind: 'line', name: 'New line', order: 5 });
    const tank = await add(room, { kind: 'tank', name: 'L8', order: 8, lineId: line.id });
    const hanging = await takeOut(room, line.id, line.version);
    expect(hanging.statusCode).toBe(409);
    expect(hanging.json<{ detail: string }>().detail).toContain('L8 hang on it');
    const { by: _, ...came } = pen.write('brought-in', tank.id, begun('Z9', 500), { atMs: NOON_MS - HOUR });
    expect((await post(room, '/log', came, 'crew')).statusCode).toBe(201);
    const { version } = (await room.ask('viewer', { url: `/api/v1/places/${tank.id}` })).json<{ version: number }>();
    const stocked = await takeOut(room, tank.id, version);
    expect(stocked.statusCode).toBe(409);
    expect(stocked.json<{ detail: string }>().detail).toContain('Z9');
    expect((await room.ask('viewer', { url: `/api/v1/places/${tank.id}` })).statusCode).toBe(200);
  });

  test('is refused for who saw another version, and without a version at all', async () => {
    const room = await gatewayRoom();
    const { id, version } = await add(room, { kind: 'room', name: 'Back room', order: 3 });
    expect((await takeOut(room, id, version + 1)).statusCode).toBe(412);
    expect((await room.ask('manager', { method: 'DELETE', url: `/api/v1/places/${id}` })).statusCode).toBe(428);
  });
});

describe('power and network of a board', () => {
  const put = (room: Room, body: object, version: number) =>
    room.ask('manager', {
      method: 'PUT',
      url: '/api/v1/boards/b7/settings',
      headers: { 'if-match': `"${version}"` },
      payload: body,
    });

  test('are kept with a version, reach the engine, and are not overwritten unseen', async () => {
    const room = await gatewayRoom();
    const circuit = await add(room, { kind: 'circuit', name: 'Circuit 9', order: 9 });
    const body = { id: 'b7', circuitId: circuit.id, accessPoint: 'shed' };
    expect((await put(room, body, 0)).statusCode).toBe(200);
    expect((await room.ask('viewer', { url: '/api/v1/boards/b7/settings' })).json()).toMatchObject({
      version: 1,
      body,
    });
    expect(room.parts.watchkeeper.state().hatchery.boards).toContainEqual(body);
    expect((await put(room, { id: 'b7' }, 0)).statusCode).toBe(412);
    const wrong = await put(room, { id: 'b7', circuitId: 'nowhere' }, 1);
    expect(wrong.statusCode).toBe(422);
    expect(wrong.json()).toMatchObject({ faults: [{ pointer: '/circuitId' }] });
  });
});
