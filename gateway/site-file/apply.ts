import type { Source } from '../../rules/hatchery.js';
import { STAMP_TRUST } from '../../rules/quality/date.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Journal } from '../journal/journal.js';
import { keepPlace, keepSite, loadHatchery, removePlace, type SettingsDesk } from '../settings.js';
import { placeFaults } from '../settings-check.js';
import { type Difference, differences, presentProbe, probesBeyond } from './difference.js';
import type { Present } from './make.js';
import { parseSiteFile, type SiteFileFault } from './parse.js';
import type { Wanted, WantedProbe } from './wanted.js';

export type ImportWish = {
  readonly text: string;
  readonly by: string;
  /** Only says what would change. */
  readonly dryRun: boolean;
  /** Also takes away what the file does not have. */
  readonly remove: boolean;
};

type Part = Pick<Journal, 'settings' | 'mappings' | 'calibrations' | 'sources'>;

export const presentSettings = (journal: Part, atMs: number): Present => ({
  hatchery: loadHatchery(journal, atMs),
  sources: journal.sources.list(),
  atMs,
});

/** Makes the settings what the file says, in one transaction: all of it, or nothing and every fault with its line. */
export const importSiteFile = (
  journal: Part,
  desk: Pick<SettingsDesk, 'change'>,
  { text, by, dryRun, remove }: ImportWish,
  now: () => number,
): Result<readonly Difference[], readonly SiteFileFault[]> => {
  const parsed = parseSiteFile(text);
  if (!parsed.ok) return parsed;
  const wanted = parsed.value;
  const before = presentSettings(journal, now());
  const misfits = remove ? [] : misfitsWithKept(before, wanted);
  if (misfits.length > 0) return fault(misfits);
  const changes = differences(before, wanted, remove);
  if (dryRun || changes.every(({ kind }) => kind === 'kept')) return ok(changes);
  return desk.change((nowMs) => {
    apply(journal, presentSettings(journal, nowMs), wanted, { by, remove });
    return ok(changes);
  });
};

/** Places that stay beside the file's must fit them: names, above all. */
const misfitsWithKept = ({ hatchery }: Present, { places }: Wanted): readonly SiteFileFault[] => {
  const kept = hatchery.places.filter(({ id }) => places.every((place) => place.id !== id));
  const all = [...places, ...kept];
  return kept.flatMap((place) =>
    placeFaults(
      place,
      all.filter(({ id }) => id !== place.id),
    ).map(({ detail }) => ({
      line: 1,
      column: 1,
      sentence: `${place.id} is not in the file and stays, and does not fit it: ${detail} Add it to the file, or import with --remove.`,
    })),
  );
};

/** Inside a transaction; the whole was checked before, so the order of writing does not matter. */
const apply = (
  journal: Part,
  present: Present,
  wanted: Wanted,
  { by, remove }: Pick<ImportWish, 'by' | 'remove'>,
): void => {
  const { atMs, hatchery } = present;
  const isChanged = (what: string): boolean =>
    differences(present, wanted, remove).some((each) => each.what === what && each.kind !== 'kept');
  if (isChanged('site')) keepSite(journal, { ...wanted.site, id: hatchery.site.id }, by, atMs);
  for (const place of wanted.places) if (isChanged(`${place.kind} ${place.id}`)) keepPlace(journal, place, by, atMs);
  if (remove) {
    for (const key of probesBeyond(present, wanted)) {
      const source = present.sources.find((each) => each.key === key);
      if (source !== undefined) journal.mappings.release(source.id, atMs, by, atMs);
    }
    for (const { id } of hatchery.places)
      if (wanted.places.every((place) => place.id !== id)) removePlace(journal, id, by, atMs);
  }
  for (const probe of wanted.probes) applyProbe(journal, present, probe, by);
};

const applyProbe = (journal: Part, present: Present, probe: WantedProbe, by: string): void => {
  const { atMs } = present;
  const before = presentProbe(present, probe.key);
  const source = journal.sources.ensure(sourceFromKey(probe.key, atMs));
  const { channelId, unit, ruling, periodMs, slope, offset } = probe;
  const isNamed =
    before?.channelId === channelId && before.unit === unit && before.ruling === ruling && before.periodMs === periodMs;
  if (!isNamed) {
    // Its board may still send what it measured before: that is judged as this channel, and belongs to its history.
    const fromMs = hasMeaning(present, source) ? atMs : source.firstSeenMs - STAMP_TRUST.beforeMs;
    const period = periodMs === undefined ? {} : { periodMs };
    journal.mappings.name({ sourceId: source.id, channelId, unit, ruling, fromMs, ...period }, by, atMs);
  }
  if (slope !== (before?.slope ?? 1) || offset !== (before?.offset ?? 0))
    journal.calibrations.add({ sourceId: source.id, fromMs: atMs, slope, offset }, by, atMs);
};

const hasMeaning = ({ hatchery }: Present, { id }: Source): boolean =>
  hatchery.mappings.some(({ sourceId }) => sourceId === id);

/** `topic#/pointer`, or `topic#name@unit` of a SenML record; see Item in intake/decoded. */
export const sourceFromKey = (key: string, firstSeenMs: number): Omit<Source, 'id'> => {
  const [topic = key, rest] = key.split('#', 2);
  const unitAt = rest === undefined || rest.startsWith('/') ? -1 : rest.lastIndexOf('@');
  const pointer = unitAt < 0 ? rest : rest?.slice(0, unitAt);
  const statedUnit = unitAt < 0 ? undefined : rest?.slice(unitAt + 1);
  const board = /^boards\/([^/]+)\//.exec(topic)?.[1];
  return {
    key,
    topic,
    firstSeenMs,
    ...(pointer === undefined ? {} : { pointer }),
    ...(statedUnit === undefined ? {} : { statedUnit }),
    ...(board === undefined ? {} : { board }),
  };
};
