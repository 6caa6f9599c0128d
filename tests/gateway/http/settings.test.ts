import { describe, expect, test } from 'vitest';
import { loadHatchery } from '../../../gateway/settings.js';
import type { Place } from '../../../rules/place.js';
import type { Versioned } from '../../../rules/wire/api.js';
import { gatewayRoom } from '../../support/gateway-room.js';
import { NOON_MS } from '../../support/hatchery.js';

const HOUR_MS = 3_600_000;

describe('places', () => {
  test('are changed only by who saw their last version; the other is told which there is', async () => {
    const room = await gatewayRoom();
    const seen = await room.ask('viewer', { url: '/api/v1/places/l2' });
    const { body } = seen.json<Versioned<Place>>();
    const put = (stage: string, version: string) =>
      room.ask('manager', {
        method: 'PUT',
        url: '/api/v1/places/l2',
        headers: { 'if-match': version },
        payload: { ...body, stage },
      });
    expect(seen.headers.etag).toBe('"1"');
    const first = await put('setting', '"1"');
    expect(first.json()).toMatchObject({ version: 2, body: { stage: 'setting' } });
    const second = await put('nursery', '"1"');
    expect(second.json()).toMatchObject({ status: 412, fault: 'version-changed' });
    expect(second.json().detail).toContain('it is at version 2 now');
    expect(second.headers.etag).toBe('"2"');
    expect((await put('nursery', 'two')).json()).toMatchObject({ status: 400, fault: 'version-not-understood' });
    expect(room.desk.place('l2')?.body.stage).toBe('setting');
    expect(room.watch.state().hatchery.places.find(({ id }) => id === 'l2')?.stage).toBe('setting');
  });

  test('get an id from their name and the last place on the wall, and keep their id for ever', async () => {
    const room = await gatewayRoom();
    const made = await room.ask('manager', {
      method: 'POST',
      url: '/api/v1/places',
      payload: { kind: 'tank', name: 'Bröt  7' },
    });
    expect(made.headers.location).toBe('/api/v1/places/brot-7');
    expect(made.json()).toMatchObject({ version: 1, body: { id: 'brot-7', name: 'Bröt  7', order: 1 } });
    const payload = { ...made.json<Versioned<Place>>().body, id: 'other' };
    const put = await room.ask('manager', {
      method: 'PUT',
      url: '/api/v1/places/brot-7',
      headers: { 'if-match': '"1"' },
      payload,
    });
    expect(put.json()).toMatchObject({ fault: 'settings-conflict' });
  });

  test('remember who changed what, and what ruled when', async () => {
    const room = await gatewayRoom();
    room.clock.passes(HOUR_MS);
    const { version, body } = room.desk.place('l2') ?? { version: 0, body: undefined };
    await room.ask('manager', {
      method: 'PUT',
      url: '/api/v1/places/l2',
      headers: { 'if-match': `"${version}"` },
      payload: { ...body, stage: 'setting' },
    });
    const stageAt = (atMs: number) => loadHatchery(room.journal, atMs).places.find(({ id }) => id === 'l2')?.stage;
    expect([stageAt(NOON_MS), stageAt(NOON_MS + HOUR_MS)]).toEqual(['larva', 'setting']);
    expect(room.journal.settings.history('place', 'l2').map(({ by }) => by)).toEqual(['test', 'a manager']);
  });
});

describe('the site', () => {
  test('changes its name and zone, never its id', async () => {
    const room = await gatewayRoom();
    const { body } = room.desk.site().site;
    const put = (payload: object) =>
      room.ask('manager', { method: 'PUT', url: '/api/v1/site', headers: { 'if-match': '"1"' }, payload });
    expect(body.id).toMatch(/^wrack-cove-[a-z2-9]{4}$/);
    expect((await put({ ...body, id: 'other' })).json()).toMatchObject({ fault: 'site-id-fixed' });
    expect((await put({ ...body, zone: 'Atlantis' })).json().detail).toContain('“Atlantis” is no time zone');
    expect((await put({ ...body, zone: 'America/New_York' })).json()).toMatchObject({ version: 2 });
  });

  test('as a file is taken whole from who saw what rules, or not at all', async () => {
    const room = await gatewayRoom();
    const { body: file, headers } = await room.ask('viewer', { url: '/api/v1/site/file' });
    const put = (text: string, etag?: string, more: object = {}) =>
      room.ask('manager', {
        method: 'PUT',
        url: '/api/v1/site/file',
        headers: etag === undefined ? {} : { 'if-match': etag },
        payload: { text, ...more },
      });
    const changed = file.replace('stage: larva', 'stage: setting');
    expect((await put(changed)).statusCode).toBe(428);
    expect((await put(changed, '"older"')).json()).toMatchObject({ status: 412, fault: 'site-file-outdated' });
    const dry = await put(changed, undefined, { dryRun: true });
    expect(dry.json()).toEqual({ applied: false, changes: 1, lines: ['~ tank l2: stage larva → setting'] });
    const broken = await put(
      changed.replace('kind', 'kind').replace('stage: setting', 'stage: 5'),
      String(headers.etag),
    );
    expect(broken.json().detail).toMatch(/nothing was changed: line \d+, column \d+: 5 must be a text\./);
    expect(room.desk.place('l2')?.version).toBe(1);
    expect((await put(changed, String(headers.etag))).json()).toMatchObject({ applied: true, changes: 1 });
    expect(room.watch.state().hatchery.places.find(({ id }) => id === 'l2')?.stage).toBe('setting');
  });
});

describe('naming a source', () => {
  const name = async (
    room: Awaited<ReturnType<typeof gatewayRoom>>,
    who: 'crew' | 'manager',
    id: number,
    payload: object,
  ) => room.ask(who, { method: 'POST', url: `/api/v1/sources/${id}/mapping`, payload });

  test('gives its whole history a meaning, from its first reading on', async () => {
    const room = await gatewayRoom();
    const early = NOON_MS - 5 * HOUR_MS;
    room.journal.land({
      readings: [{ sourceId: 2, deviceMs: early, arrivalMs: NOON_MS - HOUR_MS, raw: 30, flags: 0 }],
      revisions: [],
      alarms: [],
      malformed: [],
      boards: [],
      packets: [],
    });
    const [source] = (await room.ask('viewer', { url: '/api/v1/sources' }))
      .json()
      .filter((each: { id: number }) => each.id === 2);
    expect(source).toMatchObject({
      key: 'tanks/L2/salinity',
      readings: 1,
      lastValue: 30,
      suggestion: { tank: 'L2', quantity: 'salinity' },
    });
    const reply = await name(room, 'crew', 2, { place: { name: 'l2' }, quantity: 'salinity', unit: 'ppt' });
    expect(reply.statusCode).toBe(201);
    expect(reply.json()).toMatchObject({ id: 2, mapping: { channelId: 'l2.salinity', fromMs: early, ruling: true } });
    expect(room.watch.state().plan.channelOf.has('l2.salinity')).toBe(true);
  });

  test('may make a new tank, if a manager does it', async () => {
    const room = await gatewayRoom();
    const payload = { place: { name: 'L7', lineId: 'larval-line' }, quantity: 'salinity', unit: 'ppt' };
    expect((await name(room, 'crew', 2, payload)).json()).toMatchObject({ status: 403, fault: 'role-too-low' });
    expect(room.desk.place('l7')).toBeUndefined();
    expect((await name(room, 'manager', 2, payload)).json()).toMatchObject({ mapping: { channelId: 'l7.salinity' } });
    expect(room.desk.place('l7')?.body).toMatchObject({ kind: 'tank', name: 'L7', lineId: 'larval-line' });
  });

  test('that fails leaves no half-made tank behind', async () => {
    const room = await gatewayRoom();
    const sequence = room.journal.sequence();
    const payload = { place: { name: 'L7', lineId: 'no-line' }, quantity: 'salinity', unit: 'ppt' };
    expect((await name(room, 'manager', 2, payload)).json()).toMatchObject({ fault: 'settings-conflict' });
    expect(room.journal.sequence()).toBe(sequence);
  });

  test('for a channel whose probe has gone quiet takes over; beside one that is heard it is a companion', async () => {
    const wish = { place: { id: 'l2' }, quantity: 'temperature', unit: 'degC' };
    const quiet = await gatewayRoom();
    expect((await name(quiet, 'crew', 2, wish)).json()).toMatchObject({ mapping: { ruling: true, fromMs: NOON_MS } });
    const old = quiet.journal.mappings.list().filter(({ sourceId }) => sourceId === 1);
    expect(old.at(-1)).toMatchObject({ ruling: false, fromMs: NOON_MS });

    const heard = await gatewayRoom();
    const reading = { sourceId: 1, deviceMs: NOON_MS - 5_000, arrivalMs: NOON_MS - 5_000, raw: 26, flags: 0 };
    const rest = { revisions: [], alarms: [], malformed: [], boards: [], packets: [] };
    heard.journal.land({ readings: [reading], ...rest });
    expect((await name(heard, 'crew', 2, wish)).json()).toMatchObject({ mapping: { ruling: false } });
  });

  test('can be taken back, and a correction rules from its moment on', async () => {
    const room = await gatewayRoom();
    const calibrated = await room.ask('crew', {
      method: 'POST',
      url: '/api/v1/sources/1/calibration',
      payload: { slope: 1.02, offset: -0.1 },
    });
    expect(calibrated.json()).toEqual({ sourceId: 1, fromMs: NOON_MS, slope: 1.02, offset: -0.1, by: 'a crew' });
    expect(room.watch.state().plan.probes[0]).toMatchObject({ slope: 1.02, offset: -0.1 });
    expect((await room.ask('crew', { method: 'DELETE', url: '/api/v1/sources/1/mapping' })).statusCode).toBe(204);
    expect(room.watch.state().plan.probes).toEqual([]);
    expect((await room.ask('crew', { method: 'DELETE', url: '/api/v1/sources/1/mapping' })).json()).toMatchObject({
      fault: 'source-not-named',
    });
  });
});
