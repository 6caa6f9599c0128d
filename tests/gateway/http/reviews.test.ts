import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { expect, onTestFinished, test } from 'vitest';
import type { History } from '../../../gateway/history/history.js';
import { openSqliteHistory } from '../../../gateway/history/sqlite.js';
import { isoWithOffset } from '../../../gateway/http/moment.js';
import type { Entry } from '../../../rules/log/entry.js';
import type { FrozenReview, ReviewDifferences, ReviewLine, SinceFrozen } from '../../../rules/wire/review.js';
import { begun, diary } from '../../rules/log/diary.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { NOON_MS } from '../../support/hatchery.js';
import { DRY, GOOD } from '../journal/opened.js';

const HOUR = 3_600_000;
const MINUTE = 60_000;
const FOUND_MS = NOON_MS - HOUR;
const HOT = { fromMs: NOON_MS - 9 * HOUR, toMs: NOON_MS - 6 * HOUR };
const SILENT = { fromMs: NOON_MS - 8 * HOUR, toMs: NOON_MS - 8 * HOUR + 40 * MINUTE };

const LIMITS = { temperature: { limitHigh: 27, targetHigh: 25, confirmed: true } };
const post = (room: Room, url: string, payload: object, who: 'crew' | 'manager' = 'crew') =>
  room.ask(who, { method: 'POST', url: `/api/v1${url}`, payload });
const write = async (room: Room, { by: _, ...entry }: Entry): Promise<void> => {
  expect((await post(room, '/log', entry)).statusCode).toBe(201);
};

/** A reading a minute for two days: 24 °C, 30 °C while the heater hung, nothing while the board was silent. */
const keep = (room: Room, fromMs: number, toMs: number, arrivalMs?: number): number => {
  const readings = [];
  for (let at = fromMs; at < toMs; at += MINUTE) {
    if (arrivalMs === undefined && at >= SILENT.fromMs && at < SILENT.toMs) continue;
    const raw = at >= HOT.fromMs && at < HOT.toMs ? 30 : 24;
    const isDry = at >= NOON_MS - 20 * HOUR && at < NOON_MS - 19 * HOUR;
    const flags = isDry ? DRY : GOOD;
    readings.push({ sourceId: 1, deviceMs: at, arrivalMs: arrivalMs ?? at, raw: isDry ? 31 : raw, flags });
  }
  const nothing = { revisions: [], malformed: [], boards: [], packets: [], alarms: [] };
  room.journal.land({ ...nothing, readings });
  return readings.length;
};

const dieOffRoom = async (): Promise<Room> => {
  const real: { history?: History } = {};
  const of = (): History => {
    if (real.history === undefined) throw new Error('asked before it is there');
    return real.history;
  };
  const history: History = {
    readings: (...asked) => of().readings(...asked),
    trails: (...asked) => of().trails(...asked),
    rows: (...asked) => of().rows(...asked),
    review: (...asked) => of().review(...asked),
    close: async () => {},
  };
  const room = await gatewayRoom({ history });
  real.history = openSqliteHistory({ journal: room.journal, now: room.clock.now });
  onTestFinished(() => of().close());
  const set = { by: 'test', expectedVersion: 0, effectiveMs: NOON_MS - 30 * 24 * HOUR, recordedMs: NOON_MS };
  const tank = { kind: 'tank', order: 1, lineId: 'larval-line', stage: 'larva', wants: LIMITS } as const;
  room.journal.settings.put({ ...set, entity: 'place', id: 'l3', body: { ...tank, id: 'l3', name: 'L3' } });
  room.journal.settings.put({
    ...{ ...set, entity: 'place', id: 'l2', expectedVersion: 1 },
    body: { ...tank, id: 'l2', name: 'L2' },
  });
  room.journal.mappings.name(
    { sourceId: 1, channelId: 'l2.temperature', unit: 'degC', fromMs: NOON_MS - 48 * HOUR, ruling: true },
    'test',
    NOON_MS,
  );
  room.desk.change(() => ({ ok: true, value: undefined }));
  keep(room, NOON_MS - 48 * HOUR, NOON_MS);
  return room;
};

const pen = diary(NOON_MS - 27 * HOUR);

const stocked = async (room: Room): Promise<Entry> => {
  await write(room, pen.write('brought-in', 'l2', begun('B7', 1_000), { atMs: NOON_MS - 26 * HOUR }));
  const fields = { animals: 900, signs: 'larvae on the bottom' };
  const deaths = pen.write('deaths', 'l2', fields, { atMs: FOUND_MS });
  await write(room, deaths);
  return deaths;
};

const freeze = async (room: Room, entryId: string): Promise<FrozenReview> => {
  const answer = await post(room, '/reviews', { start: 'deaths', entryId, tanks: [] });
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json<FrozenReview>();
};

const temperature = ({ review }: FrozenReview) =>
  review.channels.find(({ channelId }) => channelId === 'l2.temperature');

test('a review begins with a deaths entry: its tank, an onset interval, and the exposure by the limit that ruled', async () => {
  const room = await dieOffRoom();
  const deaths = await stocked(room);
  const frozen = await freeze(room, deaths.id);
  expect(frozen.review.onset).toMatchObject({ certainAliveMs: NOON_MS - 26 * HOUR, certainDeadMs: FOUND_MS });
  expect(frozen.review.pattern).toMatchObject({ affected: 1, of: 2 });
  const exposure = temperature(frozen)?.exposures['24h'];
  // Three hours at 30 °C but for 40 silent minutes and the step on either side of them; flat, so up to a minute of ramp.
  expect(exposure?.beyond.limitHigh?.hours).toBeCloseTo(3 - 41 / 60, 1);
  expect(exposure?.beyond.limitHigh?.degreeHours).toBeCloseTo(3 * (3 - 41 / 60), 1);
  expect(exposure?.unmeasuredH['board-silent']).toBeCloseTo(41 / 60, 1);
  expect(exposure?.unmeasuredH['out-of-water']).toBeCloseTo(1, 1);
  expect(exposure?.highest?.value).toBe(30);
});

test('a frozen review stays as it was, and a later entry, correction and naming stand beside it with their dates', async () => {
  const room = await dieOffRoom();
  const deaths = await stocked(room);
  const frozen = await freeze(room, deaths.id);
  room.clock.passes(HOUR);
  await write(room, pen.write('note', 'l2', { words: 'foam at nine' }, { atMs: FOUND_MS - HOUR }));
  await write(room, pen.write('deaths', 'l2', { animals: 950 }, { atMs: FOUND_MS, corrects: deaths.id }));
  room.journal.calibrations.add(
    { sourceId: 1, fromMs: NOON_MS - 48 * HOUR, slope: 1, offset: -1 },
    'Bela',
    room.clock.now(),
  );
  const again = (await room.ask('viewer', { url: `/api/v1/reviews/${frozen.review.id}` })).json<FrozenReview>();
  expect(again.review).toEqual(frozen.review);
  expect(again.sha256).toBe(frozen.sha256);
  expect(again.later).toMatchObject([
    { kind: 'entry', recordedMs: NOON_MS + HOUR, by: 'a crew' },
    { kind: 'corrected-entry', recordedMs: NOON_MS + HOUR, by: 'a crew' },
    { kind: 'calibration', recordedMs: NOON_MS + HOUR, what: '1', by: 'Bela' },
  ]);
});

test('readings that come late and a corrected calibration change the figures, said with what they were', async () => {
  const room = await dieOffRoom();
  const frozen = await freeze(room, (await stocked(room)).id);
  const look = async (): Promise<ReviewDifferences> =>
    (await room.ask('viewer', { url: `/api/v1/reviews/${frozen.review.id}/differences` })).json<ReviewDifferences>();
  expect((await look()).channels).toEqual([]);
  room.clock.passes(HOUR);
  const late = keep(room, SILENT.fromMs, SILENT.toMs, room.clock.now());
  const [changed] = (await look()).channels;
  expect(changed).toMatchObject({ channelId: 'l2.temperature', lateReadings: late, lastArrivalMs: NOON_MS + HOUR });
  expect((changed?.readingsNow ?? 0) - (changed?.readingsBefore ?? 0)).toBe(late);
  const hours = changed?.figures.find(({ window, figure }) => window === '24h' && figure === 'hoursBeyondLimit');
  expect(hours?.before).toBeCloseTo(3 - 41 / 60, 1);
  expect(hours?.now).toBeCloseTo(3, 1);
  room.journal.calibrations.add(
    { sourceId: 1, fromMs: NOON_MS - 48 * HOUR, slope: 1, offset: -1 },
    'Bela',
    room.clock.now(),
  );
  const corrected = (await look()).channels[0]?.figures.find(
    ({ window, figure }) => window === '24h' && figure === 'highest',
  );
  expect(corrected).toMatchObject({ before: 30, now: 29 });
});

test('a review can begin by hand, and is not begun without a tank or a death', async () => {
  const room = await dieOffRoom();
  const byHand = await post(room, '/reviews', { start: 'by-hand', tanks: ['l2', 'l3'], deadMs: FOUND_MS });
  expect(byHand.statusCode, byHand.body).toBe(201);
  const { review } = byHand.json<FrozenReview>();
  expect(review.onset).toEqual({ certainDeadMs: FOUND_MS });
  expect(review.cannotSay).toContainEqual({ code: 'no-proof-of-life' });
  expect((await post(room, '/reviews', { start: 'by-hand', tanks: [] })).json()).toMatchObject({
    fault: 'review-without-tanks',
  });
  expect((await post(room, '/reviews', { start: 'by-hand', tanks: ['l2'] })).json()).toMatchObject({
    fault: 'review-without-deaths',
  });
  const unsure = { start: 'by-hand', tanks: ['l2'] } as const;
  for (const times of [{ deadMs: FOUND_MS, aliveMs: FOUND_MS }, { deadMs: NOON_MS + HOUR }]) {
    const refused = await post(room, '/reviews', { ...unsure, ...times });
    expect(refused.statusCode).toBe(422);
    expect(refused.json()).toMatchObject({ fault: 'review-out-of-order' });
  }
  const list = (await room.ask('viewer', { url: '/api/v1/reviews' })).json<readonly ReviewLine[]>();
  expect(list).toMatchObject([{ id: review.id, tanks: ['l2', 'l3'] }]);
});

test('a review begins from larvae on the bottom, with the moment at which somebody last saw them swim', async () => {
  const room = await dieOffRoom();
  const seen = { deadMs: FOUND_MS, aliveMs: FOUND_MS - 6 * HOUR };
  const answer = await post(room, '/reviews', { start: 'larvae-on-bottom', tanks: ['l2'], ...seen, remark: 'pale' });
  expect(answer.statusCode, answer.body).toBe(201);
  const { review } = answer.json<FrozenReview>();
  expect(review).toMatchObject({ start: 'larvae-on-bottom', remark: 'pale' });
  expect(review.onset).toMatchObject({ certainAliveMs: seen.aliveMs, certainDeadMs: seen.deadMs });
});

test('the raw readings come as one file with their flags, and a checksum that fits it', async () => {
  const room = await dieOffRoom();
  const { review } = await freeze(room, (await stocked(room)).id);
  const { body, headers } = await room.ask('viewer', { url: `/api/v1/reviews/${review.id}/raw.csv` });
  expect(headers['content-disposition']).toContain(`review-${review.id}-raw.csv`);
  const lines = body.trimEnd().split('\r\n');
  expect(lines[0]).toContain('flag (QARTOD');
  expect(lines).toHaveLength(1 + 47 * 60 - 40);
  expect(lines[1]).toMatch(/^l2\.temperature,degC,.*,24,1,/);
  const sum = await room.ask('viewer', { url: `/api/v1/reviews/${review.id}/raw.csv.sha256` });
  expect(sum.body.split('\n')).toEqual([
    `${createHash('sha256').update(body).digest('hex')}  review-${review.id}-raw.csv`,
    expect.stringMatching(new RegExp(`^# Review ${review.id}, frozen \\d{4}-.*[+-]\\d{2}:\\d{2}\\.$`)),
    '# The readings of 1 channels are those that were frozen.',
    '',
  ]);
});

test('the checksum file says which channels are no longer what was frozen, and when what changed them came', async () => {
  const room = await dieOffRoom();
  const { review } = await freeze(room, (await stocked(room)).id);
  const comments = async (): Promise<string> =>
    (await room.ask('viewer', { url: `/api/v1/reviews/${review.id}/raw.csv.sha256` })).body;
  room.clock.passes(HOUR);
  const late = keep(room, SILENT.fromMs, SILENT.toMs, room.clock.now());
  const arrived = isoWithOffset(NOON_MS + HOUR, room.desk.site().site.body.zone);
  const afterBatch = await comments();
  expect(afterBatch).toContain('# NOT what was frozen: 1 of 1 channels are others now.');
  expect(afterBatch).toContain(
    `# l2.temperature: ${late} readings arrived after the freezing, from ${arrived} to ${arrived}.`,
  );
  room.clock.passes(HOUR);
  const row = { sourceId: 1, fromMs: NOON_MS - 48 * HOUR, slope: 1, offset: -1 };
  room.journal.calibrations.add(row, 'Bela', room.clock.now());
  const corrected = isoWithOffset(NOON_MS + 2 * HOUR, room.desk.site().site.body.zone);
  expect(await comments()).toContain(`# calibration of source 1 recorded ${corrected} by Bela.`);
});

test('a checksum file with comments is read by the usual program', async () => {
  const room = await dieOffRoom();
  const { review } = await freeze(room, (await stocked(room)).id);
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-raw-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const name = `review-${review.id}-raw.csv`;
  for (const ending of ['', '.sha256']) {
    const { body } = await room.ask('viewer', { url: `/api/v1/reviews/${review.id}/raw.csv${ending}` });
    writeFileSync(join(folder, `${name}${ending}`), body);
  }
  // GNU coreutils, sha256sum --check.
  const said = execFileSync('sha256sum', ['--check', '--strict', `${name}.sha256`], { cwd: folder, encoding: 'utf8' });
  expect(said.trim()).toBe(`${name}: OK`);
});

test('what was frozen is sent byte for byte as its checksum says, and not again to who has it', async () => {
  const room = await dieOffRoom();
  const frozen = await freeze(room, (await stocked(room)).id);
  const url = `/api/v1/reviews/${frozen.review.id}/record`;
  const plain = await room.ask('viewer', { url });
  expect(createHash('sha256').update(plain.rawPayload).digest('hex')).toBe(frozen.sha256);
  expect(plain.json()).toEqual(frozen.review);
  const packed = await room.ask('viewer', { url, headers: { 'accept-encoding': 'gzip, br' } });
  expect(packed.headers['content-encoding']).toBe('gzip');
  expect(gunzipSync(packed.rawPayload).equals(plain.rawPayload)).toBe(true);
  expect(packed.rawPayload.length).toBeLessThan(plain.rawPayload.length / 2);
  const again = await room.ask('viewer', { url, headers: { 'if-none-match': String(plain.headers.etag) } });
  expect(again.statusCode).toBe(304);
  expect((await room.ask('viewer', { url: '/api/v1/reviews/none/record' })).statusCode).toBe(404);
});

test('since it was frozen: later entries and later editions, apart from what was frozen', async () => {
  const room = await dieOffRoom();
  const deaths = await stocked(room);
  const { review, sha256 } = await freeze(room, deaths.id);
  const url = `/api/v1/reviews/${review.id}/since`;
  expect((await room.ask('viewer', { url })).json()).toEqual({ sha256, later: [], newer: [] });
  room.clock.passes(HOUR);
  await write(room, pen.write('note', 'l2', { words: 'foam at nine' }, { atMs: FOUND_MS - HOUR }));
  const next = await post(room, '/reviews', { start: 'deaths', entryId: deaths.id, tanks: [], editionOf: review.id });
  const edition = next.json<FrozenReview>().review.id;
  expect((await room.ask('viewer', { url })).json<SinceFrozen>()).toMatchObject({
    sha256,
    later: [{ kind: 'entry', recordedMs: NOON_MS + HOUR }],
    newer: [edition],
  });
});
