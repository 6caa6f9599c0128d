import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import { onTestFinished } from 'vitest';
import { type Access, buildAccess } from '../../gateway/access/access.js';
import type { History, HistoryRow } from '../../gateway/history/history.js';
import { buildApp } from '../../gateway/http/app.js';
import type { AppParts } from '../../gateway/http/parts.js';
import type { Journal } from '../../gateway/journal/journal.js';
import { openJournal } from '../../gateway/journal/open.js';
import { buildLogDesk, readRecord } from '../../gateway/log-desk.js';
import { openPhotos } from '../../gateway/photos.js';
import { buildSettingsDesk, ensureSite, type SettingsDesk } from '../../gateway/settings.js';
import type { Place } from '../../rules/place.js';
import type { Role } from '../../rules/wire/api.js';
import { type HandClock, handClock } from './hand-clock.js';
import { NOON_MS } from './hatchery.js';
import { type PretendWatch, pretendWatch } from './pretend-watch.js';

export const tempFolder = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
};

export const openTestJournal = (folder = tempFolder()): Journal => {
  const opened = openJournal(folder, { durability: 'second' });
  if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
  onTestFinished(() => opened.value.close());
  return opened.value;
};

/** A history that answers with what it was asked, and these rows. */
export const pretendHistory = (rows: readonly HistoryRow[] = []): History => ({
  readings: async (channelId, fromMs, toMs) => ({
    channelId,
    quantity: 'temperature',
    unit: 'degC',
    fromMs,
    toMs,
    bucketMs: 0,
    atMs: [fromMs],
    min: [26],
    mean: [26.5],
    max: [null],
    usable: [1],
    gaps: [],
  }),
  trails: async (ids, fromMs, toMs, stepMs) => ({
    fromMs,
    toMs,
    stepMs,
    trails: Object.fromEntries(ids.map((id) => [id, [26, null]])),
  }),
  rows: async function* (_id, fromMs, toMs) {
    const inside = rows.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
    if (inside.length > 0) yield inside;
  },
  review: async () => Promise.reject(new Error('This room has no readings to review.')),
  close: async () => {},
});

export type Room = {
  readonly app: FastifyInstance;
  readonly parts: AppParts;
  readonly journal: Journal;
  readonly clock: HandClock;
  readonly watch: PretendWatch;
  readonly access: Access;
  readonly desk: SettingsDesk;
  readonly complaints: readonly string[];
  /** Asks as a role (by token), or as nobody. */
  readonly ask: (who: Role | 'nobody', options: InjectOptions) => Promise<LightMyRequestResponse>;
};

const LINE: Place = { id: 'larval-line', kind: 'line', name: 'Larval line', order: 0 };
const TANK: Place = { id: 'l2', kind: 'tank', name: 'L2', order: 0, lineId: 'larval-line', stage: 'larva' };

/** A gateway without ports: a line, a tank, one named temperature probe and one source that nobody named. */
export const gatewayRoom = async (
  more: Partial<AppParts> & { readonly demo?: boolean; readonly rows?: readonly HistoryRow[] } = {},
): Promise<Room> => {
  const { demo = false, rows = [], ...others } = more;
  const journal = openTestJournal();
  const clock = handClock(NOON_MS);
  ensureSite(journal, { name: 'Wrack Cove', zone: 'Europe/Lisbon', nowMs: NOON_MS - 86_400_000 });
  const watch = pretendWatch(journal, clock);
  const desk = buildSettingsDesk({ journal, watchkeeper: watch, now: clock.now });
  for (const place of [LINE, TANK]) desk.putPlace(place, { by: 'test', expectedVersion: 0 });
  const seen = { firstSeenMs: NOON_MS - 3_600_000 };
  const named = journal.sources.ensure({ key: 'tanks/L2/temperature', topic: 'tanks/L2/temperature', ...seen });
  journal.sources.ensure({ key: 'tanks/L2/salinity', topic: 'tanks/L2/salinity', ...seen });
  journal.mappings.name(
    { sourceId: named.id, channelId: 'l2.temperature', unit: 'degC', fromMs: seen.firstSeenMs, ruling: true },
    'test',
    NOON_MS,
  );
  desk.change(() => ({ ok: true, value: undefined }));
  const access = buildAccess({ journal, now: clock.now, demo });
  const photos = openPhotos(journal.folder);
  const log = buildLogDesk({
    journal,
    watchkeeper: watch,
    now: clock.now,
    record: readRecord(journal),
    hasPhoto: photos.has,
  });
  const complaints: string[] = [];
  const parts: AppParts = {
    clock,
    watchkeeper: watch,
    journal,
    history: pretendHistory(rows),
    access,
    desk,
    log,
    photos,
    boardDoor: () => ({ host: '0.0.0.0', port: 1883, tls: false, external: false }),
    version: '0.0.0-test',
    build: 'test',
    complain: (what, error) => complaints.push(`${what}: ${String(error)}`),
    ...others,
  };
  const app = await buildApp(parts);
  onTestFinished(() => app.close());
  const tokens = new Map<Role, string>();
  for (const role of ['viewer', 'crew', 'manager'] as const) tokens.set(role, access.addToken(`a ${role}`, role) ?? '');
  return {
    app,
    parts,
    journal,
    clock,
    watch,
    access,
    desk,
    complaints,
    ask: (who, options) =>
      app.inject({
        ...options,
        headers: { ...options.headers, ...(who === 'nobody' ? {} : { authorization: `Bearer ${tokens.get(who)}` }) },
      }),
  };
};
