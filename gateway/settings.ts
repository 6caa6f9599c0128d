import { randomInt } from 'node:crypto';
import type { BoardSettings, Hatchery, Mapping, Site } from '../rules/hatchery.js';
import type { Place } from '../rules/place.js';
import { fault, ok, type Result } from '../rules/result.js';
import type { SitePicture, Versioned } from '../rules/wire/api.js';
import type { Journal } from './journal/journal.js';
import type { Setting } from './journal/settings.js';
import { type PlaceFault, placeFaults } from './settings-check.js';
import type { Watchkeeper } from './watchkeeper-contract.js';

export const SITE = 'site';
export const PLACE = 'place';
export const BOARD = 'board';

type SettingsPart = Pick<Journal, 'settings' | 'mappings' | 'calibrations' | 'sources'>;

const versioned = <T>({ version, effectiveMs, recordedMs, body }: Setting): Versioned<T> => ({
  version,
  effectiveMs,
  recordedMs,
  body: body as T,
});

export const rulingPlaces = ({ settings }: Pick<Journal, 'settings'>, atMs: number): readonly Versioned<Place>[] =>
  settings
    .allRuling(PLACE, atMs)
    .map((setting) => versioned<Place>(setting))
    .sort((a, b) => a.body.order - b.body.order || a.body.id.localeCompare(b.body.id));

export const rulingSite = ({ settings }: Pick<Journal, 'settings'>, atMs: number): Versioned<Site> => {
  const row = settings.ruling(SITE, SITE, atMs);
  if (row === undefined || row.body === null)
    throw new Error('The journal has no site: it was not opened by the start');
  return versioned<Site>(row);
};

/** Where boards get power and network, as far as somebody said. */
const rulingBoards = ({ settings }: SettingsPart, atMs: number): readonly BoardSettings[] =>
  settings.allRuling(BOARD, atMs).map(({ body }) => body as BoardSettings);

/** Everything that a person set, as it rules at a moment: places, the site, and every dated mapping and calibration. */
export const loadHatchery = (journal: SettingsPart, atMs: number): Hatchery => ({
  site: rulingSite(journal, atMs).body,
  places: rulingPlaces(journal, atMs).map(({ body }) => body),
  mappings: journal.mappings.list().map((mapping) => {
    const board = journal.sources.byId(mapping.sourceId)?.board;
    return board === undefined ? mapping : { ...mapping, board };
  }),
  calibrations: journal.calibrations.list(),
  boards: rulingBoards(journal, atMs),
});

const SUFFIX = 'abcdefghjkmnpqrstvwxyz23456789';

/** Lower-case letters, digits and dashes from a name; undefined when nothing of it is left. */
export const slugOf = (name: string): string | undefined => {
  const plain = name.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase();
  const slug = plain
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40)
    .replace(/-+$/, '');
  return slug === '' ? undefined : slug;
};

/** The site of a first start. Its id is immutable and not guessed from the name alone, so that sites can share a history. */
export const ensureSite = (
  journal: Pick<Journal, 'settings'>,
  { name, zone, nowMs }: { readonly name: string; readonly zone: string; readonly nowMs: number },
): void => {
  if (journal.settings.latest(SITE, SITE) !== undefined) return;
  const suffix = Array.from({ length: 4 }, () => SUFFIX[randomInt(SUFFIX.length)] ?? 'a').join('');
  const body: Site = { id: `${slugOf(name) ?? 'hatchery'}-${suffix}`, name, zone, temperatureUnit: 'C', hours: 24 };
  const row = { entity: SITE, id: SITE, effectiveMs: nowMs, recordedMs: nowMs, by: 'first start', body };
  journal.settings.put({ ...row, expectedVersion: 0 });
};

export type WriteFault =
  /** Somebody else wrote in between; the version as it is now, 0 for none. */
  | { readonly code: 'version-changed'; readonly present: number }
  | { readonly code: 'site-id-fixed'; readonly id: string }
  | { readonly code: 'place-exists'; readonly id: string }
  | { readonly code: 'settings-conflict'; readonly faults: readonly PlaceFault[] };

/** Who writes, and which version they saw. */
export type Writing = { readonly by: string; readonly expectedVersion: number };

/** Writes what a person set: first the journal, then the engine is told. Nothing is ever half done. */
export type SettingsDesk = {
  site(): SitePicture;
  place(id: string): Versioned<Place> | undefined;
  putSite(site: Site, writing: Writing): Result<Versioned<Site>, WriteFault>;
  putPlace(place: Place, writing: Writing): Result<Versioned<Place>, WriteFault>;
  /**
   * Several writes as one: all of `work` is committed and the engine told once, or, when it returns a fault, none is.
   * Only journal writes belong in it.
   */
  change<T, F>(work: (nowMs: number) => Result<T, F>): Result<T, F>;
};

export type DeskParts = {
  readonly journal: SettingsPart & Pick<Journal, 'together'>;
  readonly watchkeeper: Pick<Watchkeeper, 'tell'>;
  readonly now: () => number;
};

/** Carries a fault out of a transaction, so that it is rolled back. */
class Undone<F> extends Error {
  constructor(readonly what: F) {
    super('rolled back');
  }
}

export const buildSettingsDesk = ({ journal, watchkeeper, now }: DeskParts): SettingsDesk => {
  const change: SettingsDesk['change'] = (work) => {
    const nowMs = now();
    type F = Extract<ReturnType<typeof work>, { ok: false }>['fault'];
    try {
      const value = journal.together(() => {
        const done = work(nowMs);
        if (!done.ok) throw new Undone<F>(done.fault);
        return done.value;
      });
      watchkeeper.tell({ kind: 'hatchery', atMs: nowMs, hatchery: loadHatchery(journal, nowMs) });
      return ok(value);
    } catch (error) {
      if (error instanceof Undone) return fault(error.what as F);
      throw error;
    }
  };
  return {
    site: () => ({ site: rulingSite(journal, now()), places: rulingPlaces(journal, now()) }),
    place: (id) => rulingPlaces(journal, now()).find(({ body }) => body.id === id),
    putSite: (site, writing) => change((nowMs) => writeSite(journal, site, writing, nowMs)),
    putPlace: (place, writing) => change((nowMs) => writePlace(journal, place, writing, nowMs)),
    change,
  };
};

const put = <T>(
  { settings }: Pick<Journal, 'settings'>,
  entity: string,
  id: string,
  body: T,
  { by, expectedVersion }: Writing,
  nowMs: number,
): Result<Versioned<T>, WriteFault> => {
  const done = settings.put({ entity, id, body, by, expectedVersion, effectiveMs: nowMs, recordedMs: nowMs });
  return done.ok
    ? ok(versioned<T>(done.value.setting))
    : fault({ code: 'version-changed', present: done.fault.present?.version ?? 0 });
};

/** Inside `change`. */
export const writeSite = (
  journal: SettingsPart,
  site: Site,
  writing: Writing,
  nowMs: number,
): Result<Versioned<Site>, WriteFault> => {
  const present = rulingSite(journal, nowMs);
  if (present.body.id !== site.id) return fault({ code: 'site-id-fixed', id: present.body.id });
  return put(journal, SITE, SITE, site, writing, nowMs);
};

/** Inside `change`. `expectedVersion` 0 makes a new place; one that was taken away may come back under its id. */
export const writePlace = (
  journal: SettingsPart,
  place: Place,
  writing: Writing,
  nowMs: number,
): Result<Versioned<Place>, WriteFault> => {
  const latest = journal.settings.latest(PLACE, place.id);
  const isThere = latest !== undefined && latest.body !== null;
  if (writing.expectedVersion === 0 && isThere) return fault({ code: 'place-exists', id: place.id });
  const others = rulingPlaces(journal, nowMs)
    .map(({ body }) => body)
    .filter(({ id }) => id !== place.id);
  const faults = placeFaults(place, others, rulingSite(journal, nowMs).body);
  if (faults.length > 0) return fault({ code: 'settings-conflict', faults });
  const expectedVersion = isThere ? writing.expectedVersion : (latest?.version ?? 0);
  return put(journal, PLACE, place.id, place, { ...writing, expectedVersion }, nowMs);
};

const keep = (journal: SettingsPart, entity: string, id: string, body: unknown, by: string, nowMs: number): void => {
  const expectedVersion = journal.settings.latest(entity, id)?.version ?? 0;
  const done = put(journal, entity, id, body, { by, expectedVersion }, nowMs);
  if (!done.ok) throw new Error(`${entity}/${id} changed inside its own transaction`);
};

/** Inside `change`, for a whole that was checked as one: over whatever version there is. */
export const keepSite = (journal: SettingsPart, site: Site, by: string, nowMs: number): void =>
  keep(journal, SITE, SITE, site, by, nowMs);
export const keepPlace = (journal: SettingsPart, place: Place, by: string, nowMs: number): void =>
  keep(journal, PLACE, place.id, place, by, nowMs);

/** Inside `change`: the place is no more, and no source is a channel of it. Its history stays. */
export const removePlace = (journal: SettingsPart, id: string, by: string, nowMs: number): void => {
  for (const { sourceId, channelId } of mappingsAt(journal, nowMs))
    if (channelId.startsWith(`${id}.`)) journal.mappings.release(sourceId, nowMs, by, nowMs);
  keep(journal, PLACE, id, null, by, nowMs);
};

export const mappingsAt = ({ mappings }: Pick<Journal, 'mappings'>, atMs: number): readonly Mapping[] =>
  mappings.list().filter(({ fromMs, toMs }) => fromMs <= atMs && (toMs === undefined || atMs < toMs));
