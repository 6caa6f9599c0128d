import { stringify } from 'yaml';
import { parseChannelId } from '../../rules/channel.js';
import type { Calibration, Hatchery, Mapping, Source } from '../../rules/hatchery.js';
import type { OwnWants, Place } from '../../rules/place.js';
import { QUANTITIES } from '../../rules/quantity.js';
import {
  type FileLimits,
  type FilePlace,
  type FileProbe,
  LIST_NAMES,
  LISTS,
  SITE_FILE_FORMAT,
  type SiteFile,
} from './format.js';

const HEAD = `# Nightwater site file. “nightwater site schema” prints the schema for editors.
# Units: °C, practical salinity, mg/L, % of saturation, kPa, m, L; delays in seconds.
`;

export type Present = {
  readonly hatchery: Hatchery;
  readonly sources: readonly Source[];
  readonly atMs: number;
};

/** What rules now as a site file; what the file can hold comes back unchanged through `parseSiteFile`. */
export const makeSiteFile = (present: Present): string =>
  HEAD + stringify(siteFileFrom(present), { lineWidth: 0, aliasDuplicateObjects: false });

export const siteFileFrom = (present: Present): SiteFile => {
  const { id: _, ...site } = present.hatchery.site;
  const lists = LIST_NAMES.map((list) => {
    const places = present.hatchery.places
      .filter(({ kind }) => kind === LISTS[list])
      .sort((a, b) => a.order - b.order || a.id.localeCompare(b.id));
    return [list, places.map((place, index) => filePlaceFrom(place, index, probesOf(present, place.id)))] as const;
  });
  return {
    format: SITE_FILE_FORMAT,
    site,
    ...Object.fromEntries(lists.filter(([, places]) => places.length > 0)),
  };
};

const iso = (atMs: number): string => new Date(atMs).toISOString();

const filePlaceFrom = (place: Place, index: number, probes: readonly FileProbe[]): FilePlace => {
  const {
    kind: _,
    order,
    lineId,
    airMainId,
    circuitId,
    roomId,
    stageSinceMs,
    speciesGroup,
    bed,
    wants,
    stageWants,
    id,
    name,
    ...same
  } = place;
  return {
    id,
    name,
    ...(order === index ? {} : { order }),
    ...(lineId === undefined ? {} : { line: lineId }),
    ...(airMainId === undefined ? {} : { airMain: airMainId }),
    ...(circuitId === undefined ? {} : { circuit: circuitId }),
    ...(roomId === undefined ? {} : { room: roomId }),
    ...same,
    ...(stageSinceMs === undefined ? {} : { stageSince: iso(stageSinceMs) }),
    ...(speciesGroup === undefined ? {} : { species: speciesGroup }),
    ...(bed === undefined ? {} : { bed: fileBedFrom(bed) }),
    ...(wants === undefined ? {} : { limits: limitsFrom(wants) }),
    ...(stageWants === undefined ? {} : { limitsByStage: limitsByStage(stageWants) }),
    ...(probes.length === 0 ? {} : { probes }),
  };
};

const fileBedFrom = ({ cleanedAtMs, ...bed }: NonNullable<Place['bed']>): NonNullable<FilePlace['bed']> => ({
  ...bed,
  ...(cleanedAtMs === undefined ? {} : { cleaned: iso(cleanedAtMs) }),
});

const limitsByStage = (byStage: NonNullable<Place['stageWants']>): NonNullable<FilePlace['limitsByStage']> =>
  Object.fromEntries(Object.entries(byStage).map(([stage, wants]) => [stage, limitsFrom(wants)]));

const limitsFrom = (wants: NonNullable<Place['wants']>): FileLimits =>
  Object.fromEntries(
    QUANTITIES.flatMap((quantity) => {
      const own: OwnWants | undefined = wants[quantity];
      if (own === undefined) return [];
      const { onDelayMs, offDelayMs, ...lines } = own;
      const onDelay = onDelayMs === undefined ? {} : { onDelayS: onDelayMs / 1_000 };
      const offDelay = offDelayMs === undefined ? {} : { offDelayS: offDelayMs / 1_000 };
      return [[quantity, { ...lines, ...onDelay, ...offDelay }]];
    }),
  );

/** Mappings in force of one place, as probes. */
const probesOf = ({ hatchery, sources, atMs }: Present, placeId: string): readonly FileProbe[] =>
  hatchery.mappings
    .filter(({ fromMs, toMs }) => fromMs <= atMs && (toMs === undefined || atMs < toMs))
    .flatMap((mapping) => {
      const key = sources.find(({ id }) => id === mapping.sourceId)?.key;
      const address = parseChannelId(mapping.channelId);
      if (key === undefined || address?.placeId !== placeId) return [];
      return [probeFrom(key, mapping, address, calibrationAt(hatchery.calibrations, mapping.sourceId, atMs))];
    })
    .sort((a, b) => a.source.localeCompare(b.source));

const probeFrom = (
  source: string,
  { unit, ruling, periodMs }: Mapping,
  { quantity, position }: { readonly quantity: FileProbe['quantity']; readonly position?: string },
  { slope, offset }: Pick<Calibration, 'slope' | 'offset'>,
): FileProbe => ({
  source,
  quantity,
  unit,
  ...(position === undefined ? {} : { position }),
  ...(ruling ? {} : { ruling }),
  ...(periodMs === undefined ? {} : { periodS: periodMs / 1_000 }),
  ...(slope === 1 ? {} : { slope }),
  ...(offset === 0 ? {} : { offset }),
});

/** The correction in force: the latest begun. None is 1 and 0. */
export const calibrationAt = (
  rows: readonly Calibration[],
  sourceId: number,
  atMs: number,
): Pick<Calibration, 'slope' | 'offset'> =>
  rows
    .filter((row) => row.sourceId === sourceId && row.fromMs <= atMs)
    .reduce<Calibration | undefined>(
      (best, row) => (best === undefined || row.fromMs >= best.fromMs ? row : best),
      undefined,
    ) ?? {
    slope: 1,
    offset: 0,
  };
