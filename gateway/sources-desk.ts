import { makeChannelId } from '../rules/channel.js';
import type { Calibration, Mapping, Source } from '../rules/hatchery.js';
import type { Place } from '../rules/place.js';
import { isQuantity, type Quantity, UNITS_UNDERSTOOD } from '../rules/quantity.js';
import { fault, ok, type Result } from '../rules/result.js';
import type { NameSource, NewCalibration, SourcePicture } from '../rules/wire/api.js';
import { parseTopic } from '../rules/wire/topic.js';
import type { Journal } from './journal/journal.js';
import { mappingsAt, rulingPlaces, type SettingsDesk, slugOf, type WriteFault, writePlace } from './settings.js';
import type { Watchkeeper } from './watchkeeper-contract.js';

export type NameFault =
  | WriteFault
  | { readonly code: 'unit-not-understood'; readonly unit: string; readonly quantity: Quantity }
  | { readonly code: 'no-such-place'; readonly id: string }
  | { readonly code: 'place-name-useless'; readonly name: string }
  | { readonly code: 'source-not-named'; readonly id: number }
  /** A new place by naming is a change of the site. */
  | { readonly code: 'role-too-low' };

export type Naming = { readonly by: string; readonly mayAddPlace: boolean };

/** What sources mean: naming, taking the name back, correcting. */
export type SourcesDesk = {
  list(): readonly SourcePicture[];
  /** The source as it is named now. */
  name(source: Source, wish: NameSource, naming: Naming): Result<SourcePicture, NameFault>;
  release(source: Source, by: string): Result<undefined, NameFault>;
  calibrate(source: Source, wish: NewCalibration, by: string): Result<Calibration, NameFault>;
};

export type SourcesParts = {
  readonly journal: Pick<Journal, 'settings' | 'mappings' | 'calibrations' | 'sources' | 'readings'>;
  readonly desk: SettingsDesk;
  readonly watchkeeper: Pick<Watchkeeper, 'tell'>;
  readonly now: () => number;
};

/** Device times as old as this are accepted (rules/time), so a source may have readings from before it was seen. */
const OLDEST_MS = 7 * 24 * 3_600_000;
/** A ruling probe that was not heard for so long gives way to one that is newly named for its channel. */
const QUIET_MS = 10 * 60_000;

export const buildSourcesDesk = (parts: SourcesParts): SourcesDesk => {
  const { journal, desk, now } = parts;
  return {
    list: () => {
      const mappings = new Map(mappingsAt(journal, now()).map((mapping) => [mapping.sourceId, mapping]));
      return journal.sources.list().map((source) => sourcePicture(journal, source, mappings.get(source.id)));
    },
    name: (source, wish, naming) => {
      const done = desk.change((nowMs) => nameSource(parts, source, wish, naming, nowMs));
      if (!done.ok) return done;
      tellLatest(parts, done.value);
      return ok(sourcePicture(journal, source, done.value));
    },
    release: (source, by) =>
      desk.change<undefined, NameFault>((nowMs) => {
        if (mappingsAt(journal, nowMs).every(({ sourceId }) => sourceId !== source.id))
          return fault({ code: 'source-not-named', id: source.id });
        journal.mappings.release(source.id, nowMs, by, nowMs);
        return ok(undefined);
      }),
    calibrate: (source, { slope, offset, fromMs }, by) =>
      desk.change<Calibration, NameFault>((nowMs) => {
        const calibration = { sourceId: source.id, fromMs: fromMs ?? nowMs, slope, offset };
        journal.calibrations.add(calibration, by, nowMs);
        return ok({ ...calibration, by });
      }),
  };
};

const LATEST_MS = 3_600_000;
const LATEST = 200;

/**
 * What a source said lately is told to the watch again, now that it means something: its value stands on the wall when
 * it has its name, not only when its board speaks next. The journal knows each of these readings: none is kept twice.
 */
const tellLatest = ({ journal, watchkeeper, now }: SourcesParts, { sourceId, fromMs }: Mapping): void => {
  const atMs = now();
  const latest = journal.readings
    .between(sourceId, Math.max(fromMs, atMs - LATEST_MS), atMs + 1)
    .filter(({ variant }) => variant === 0);
  if (latest.length === 0) return;
  watchkeeper.tell(
    ...latest.slice(-LATEST).map(({ deviceMs, raw }) => ({ kind: 'reading', atMs, sourceId, raw, deviceMs }) as const),
  );
};

const nameSource = (
  { journal }: SourcesParts,
  source: Source,
  wish: NameSource,
  naming: Naming,
  nowMs: number,
): Result<Mapping, NameFault> => {
  const { quantity, unit, position } = wish;
  if (!Object.hasOwn(UNITS_UNDERSTOOD[quantity], unit)) return fault({ code: 'unit-not-understood', unit, quantity });
  const place = placeOf(journal, wish.place, naming, nowMs);
  if (!place.ok) return place;
  const channelId = makeChannelId({ placeId: place.value, quantity, ...(position === undefined ? {} : { position }) });
  const present = mappingsAt(journal, nowMs).filter(({ sourceId }) => sourceId !== source.id);
  const rival = present.find((mapping) => mapping.channelId === channelId && mapping.ruling);
  const ruling = wish.ruling ?? (rival === undefined || isQuiet(journal, rival.sourceId, nowMs));
  if (ruling && rival !== undefined) {
    const { toMs: _, ...rest } = rival;
    journal.mappings.name({ ...rest, fromMs: nowMs, ruling: false }, naming.by, nowMs);
  }
  const fromMs = wish.fromMs ?? (rival === undefined ? sinceFirstSight(journal, source, nowMs) : nowMs);
  const mapping = { sourceId: source.id, channelId, unit, fromMs, ruling };
  journal.mappings.name(mapping, naming.by, nowMs);
  return ok(mapping);
};

/** A source that never had a meaning gets it from its first reading on; one that had keeps its past as it was. */
const sinceFirstSight = (
  { mappings, readings }: SourcesParts['journal'],
  { id, firstSeenMs }: Source,
  nowMs: number,
) => {
  if (mappings.list().some(({ sourceId }) => sourceId === id)) return nowMs;
  return readings.between(id, firstSeenMs - OLDEST_MS, firstSeenMs)[0]?.deviceMs ?? firstSeenMs;
};

const isQuiet = ({ readings }: Pick<Journal, 'readings'>, sourceId: number, nowMs: number): boolean =>
  nowMs - (readings.newest(sourceId)?.arrivalMs ?? Number.NEGATIVE_INFINITY) > QUIET_MS;

/** The place that is meant; a new tank where a name was given that nothing has yet. */
const placeOf = (
  journal: SourcesParts['journal'],
  wish: NameSource['place'],
  { by, mayAddPlace }: Naming,
  nowMs: number,
): Result<string, NameFault> => {
  const places = rulingPlaces(journal, nowMs).map(({ body }) => body);
  if ('id' in wish) {
    return places.some(({ id }) => id === wish.id) ? ok(wish.id) : fault({ code: 'no-such-place', id: wish.id });
  }
  const known = places.find(({ name }) => name.toLowerCase() === wish.name.trim().toLowerCase());
  if (known !== undefined) return ok(known.id);
  if (!mayAddPlace) return fault({ code: 'role-too-low' });
  const place = newPlace(places, {
    kind: 'tank',
    name: wish.name.trim(),
    ...(wish.lineId === undefined ? {} : { lineId: wish.lineId }),
  });
  if (place === undefined) return fault({ code: 'place-name-useless', name: wish.name });
  const done = writePlace(journal, place, { by, expectedVersion: 0 }, nowMs);
  return done.ok ? ok(place.id) : done;
};

/** A place with an id from its name and the last place on the wall; undefined when the name gives no id. */
export const newPlace = (
  places: readonly Place[],
  wish: Omit<Place, 'id' | 'order'> & { readonly id?: string; readonly order?: number },
): Place | undefined => {
  const slug = wish.id ?? slugOf(wish.name);
  if (slug === undefined) return undefined;
  const taken = new Set(places.map(({ id }) => id));
  let id = slug;
  for (let number = 2; wish.id === undefined && taken.has(id); number += 1) id = `${slug.slice(0, 36)}-${number}`;
  const order = wish.order ?? places.reduce((last, place) => Math.max(last, place.order), -1) + 1;
  return { ...wish, id, order };
};

const sourcePicture = (
  { readings, sources }: SourcesParts['journal'],
  source: Source,
  mapping: Mapping | undefined,
): SourcePicture => {
  const newest = readings.newest(source.id);
  const suggestion = mapping === undefined ? suggestionFor(source) : {};
  return {
    ...source,
    ...(newest === undefined ? {} : { lastSeenMs: newest.arrivalMs, lastValue: newest.raw }),
    readings: sources.readingCount(source.id),
    ...(mapping === undefined ? {} : { mapping }),
    ...(Object.keys(suggestion).length === 0 ? {} : { suggestion }),
  };
};

/** What topic, name and unit make likely: it fills the form, a person decides. */
export const suggestionFor = ({ topic, pointer, statedUnit }: Source): NonNullable<SourcePicture['suggestion']> => {
  const address = parseTopic(topic);
  const tank = address.kind === 'tank' || address.kind === 'tank-unknown-quantity' ? address.tank : undefined;
  const last = pointer?.split(/[/:]/).at(-1) ?? '';
  const quantity = address.kind === 'tank' ? address.quantity : isQuantity(last) ? last : undefined;
  const unit = unitFor(quantity, statedUnit);
  return {
    ...(tank === undefined ? {} : { tank }),
    ...(quantity === undefined ? {} : { quantity }),
    ...(unit === undefined ? {} : { unit }),
  };
};

/** What the message states, where it is understood; else the only unit that there is. Never a guess between two. */
const unitFor = (quantity: Quantity | undefined, stated: string | undefined): string | undefined => {
  if (quantity === undefined) return undefined;
  const known = Object.keys(UNITS_UNDERSTOOD[quantity]);
  if (stated !== undefined && known.includes(stated)) return stated;
  return known.length === 1 ? known[0] : undefined;
};
