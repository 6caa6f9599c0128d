import type { Place } from '../../rules/place.js';
import { FILE_KEYS } from './format.js';
import { calibrationAt, type Present } from './make.js';
import type { Wanted, WantedProbe } from './wanted.js';

/** One line of what an import would do: what, and how it is now and then. */
export type Difference = {
  readonly kind: 'add' | 'change' | 'remove' | 'kept';
  readonly what: string;
  readonly key?: string;
  readonly from?: unknown;
  readonly to?: unknown;
};

const isSame = (a: unknown, b: unknown): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));

/** Keys in one order, so that equal settings are equal texts. */
const sorted = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => a.localeCompare(b))
      .map(([key, each]) => [key, sorted(each)]),
  );
};

const keyed = (what: string, before: object, after: object): readonly Difference[] => {
  const [from, to] = [new Map(Object.entries(before)), new Map(Object.entries(after))];
  return [...new Set([...from.keys(), ...to.keys()])]
    .filter((key) => !isSame(from.get(key), to.get(key)))
    .map((key) => ({ kind: 'change', what, key: FILE_KEYS[key] ?? key, from: from.get(key), to: to.get(key) }));
};

const placeWords = ({ kind, id }: Place): string => `${kind} ${id}`;

/** A probe as it is now, in the file's words; undefined for a source that means nothing. */
export const presentProbe = ({ hatchery, sources, atMs }: Present, key: string): WantedProbe | undefined => {
  const source = sources.find((each) => each.key === key);
  const mapping = hatchery.mappings.find(
    ({ sourceId, fromMs, toMs }) => sourceId === source?.id && fromMs <= atMs && (toMs === undefined || atMs < toMs),
  );
  if (source === undefined || mapping === undefined) return undefined;
  const { channelId, unit, ruling, periodMs } = mapping;
  const { slope, offset } = calibrationAt(hatchery.calibrations, source.id, atMs);
  return { key, channelId, unit, ruling, slope, offset, ...(periodMs === undefined ? {} : { periodMs }) };
};

/** Keys of sources that are probes now and that the file does not have. */
export const probesBeyond = (present: Present, wanted: Wanted): readonly string[] => {
  const keys = new Set(wanted.probes.map(({ key }) => key));
  return present.sources
    .map(({ key }) => key)
    .filter((key) => !keys.has(key) && presentProbe(present, key) !== undefined);
};

/** All that an import would change, in the order of the file; what the file leaves out is kept unless `remove`. */
export const differences = (present: Present, wanted: Wanted, remove: boolean): readonly Difference[] => {
  const { id: _, ...site } = present.hatchery.site;
  const { places } = present.hatchery;
  const beyond = places.filter(({ id }) => wanted.places.every((place) => place.id !== id));
  const kind = remove ? 'remove' : 'kept';
  return [
    ...keyed('site', site, wanted.site),
    ...wanted.places.flatMap((place): readonly Difference[] => {
      const before = places.find(({ id }) => id === place.id);
      return before === undefined
        ? [{ kind: 'add', what: placeWords(place), to: place.name }]
        : keyed(placeWords(place), before, place);
    }),
    ...wanted.probes.flatMap((probe): readonly Difference[] => {
      const before = presentProbe(present, probe.key);
      const what = `probe ${probe.key}`;
      return before === undefined ? [{ kind: 'add', what, to: probe.channelId }] : keyed(what, before, probe);
    }),
    ...beyond.map((place): Difference => ({ kind, what: placeWords(place), from: place.name })),
    ...probesBeyond(present, wanted).map((key): Difference => ({ kind, what: `probe ${key}` })),
  ];
};

const shown = (value: unknown): string =>
  value === undefined ? '(not set)' : typeof value === 'string' ? value : JSON.stringify(value);

const SIGN = { add: '+', change: '~', remove: '-', kept: '=' } as const;

/** `~ tank l2: stage larva → setting`. */
export const differenceLine = ({ kind, what, key, from, to }: Difference): string => {
  const sign = SIGN[kind];
  if (kind === 'change') return `${sign} ${what}: ${key} ${shown(from)} → ${shown(to)}`;
  if (kind === 'add') return `${sign} ${what}: ${shown(to)}`;
  return `${sign} ${what}${kind === 'kept' ? ': not in the file, stays as it is' : ''}`;
};
