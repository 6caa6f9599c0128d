import { makeChannelId } from '../../rules/channel.js';
import type { Site } from '../../rules/hatchery.js';
import type { OwnWants, Place } from '../../rules/place.js';
import { QUANTITIES } from '../../rules/quantity.js';
import {
  type FileLimits,
  type FilePlace,
  type FileProbe,
  LIST_NAMES,
  LISTS,
  type ListName,
  type SiteFile,
} from './format.js';

/** A probe that the file wants: a source by its key, and what it means. */
export type WantedProbe = {
  readonly key: string;
  readonly channelId: string;
  readonly unit: string;
  readonly ruling: boolean;
  readonly periodMs?: number;
  readonly slope: number;
  readonly offset: number;
};

/** What a site file says, in the words of the settings. */
export type Wanted = {
  readonly site: Omit<Site, 'id'>;
  readonly places: readonly Place[];
  readonly probes: readonly WantedProbe[];
};

export const wantedFrom = (file: SiteFile): Wanted => {
  const listed = LIST_NAMES.flatMap((list) => (file[list] ?? []).map((place, index) => ({ list, place, index })));
  return {
    site: file.site,
    places: listed.map(({ list, place, index }) => placeFrom(list, place, index)),
    probes: listed.flatMap(({ place }) => (place.probes ?? []).map((probe) => probeFrom(place.id, probe))),
  };
};

/** Drops what is undefined, as exact optional properties want it. */
const present = <T extends object>(value: { [K in keyof T]: T[K] | undefined }): T =>
  Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as T;

const placeFrom = (list: ListName, place: FilePlace, index: number): Place => {
  const {
    line,
    airMain,
    circuit,
    room,
    stageSince,
    species,
    bed,
    limits,
    limitsByStage,
    probes: _,
    order,
    ...same
  } = place;
  return present<Place>({
    ...same,
    kind: LISTS[list],
    order: order ?? index,
    lineId: line,
    airMainId: airMain,
    circuitId: circuit,
    roomId: room,
    stageSinceMs: stageSince === undefined ? undefined : Date.parse(stageSince),
    speciesGroup: species,
    bed: bed === undefined ? undefined : bedFrom(bed),
    wants: limits === undefined ? undefined : wantsFrom(limits),
    stageWants: limitsByStage === undefined ? undefined : stageWantsFrom(limitsByStage),
  });
};

const bedFrom = ({ cleaned, ...bed }: NonNullable<FilePlace['bed']>): NonNullable<Place['bed']> => ({
  ...bed,
  ...(cleaned === undefined ? {} : { cleanedAtMs: Date.parse(cleaned) }),
});

const stageWantsFrom = (byStage: NonNullable<FilePlace['limitsByStage']>): NonNullable<Place['stageWants']> =>
  Object.fromEntries(Object.entries(byStage).map(([stage, limits]) => [stage, wantsFrom(limits)]));

const wantsFrom = (limits: FileLimits): NonNullable<Place['wants']> =>
  Object.fromEntries(
    QUANTITIES.flatMap((quantity) => {
      const own = limits[quantity];
      if (own === undefined) return [];
      const { onDelayS, offDelayS, ...lines } = own;
      const wants: OwnWants = {
        ...lines,
        ...(onDelayS === undefined ? {} : { onDelayMs: Math.round(onDelayS * 1_000) }),
        ...(offDelayS === undefined ? {} : { offDelayMs: Math.round(offDelayS * 1_000) }),
      };
      return [[quantity, wants]];
    }),
  );

const probeFrom = (placeId: string, probe: FileProbe): WantedProbe => {
  const { source, quantity, unit, position, ruling = true, periodS, slope = 1, offset = 0 } = probe;
  return {
    key: source,
    channelId: makeChannelId({ placeId, quantity, ...(position === undefined ? {} : { position }) }),
    unit,
    ruling,
    slope,
    offset,
    ...(periodS === undefined ? {} : { periodMs: Math.round(periodS * 1_000) }),
  };
};
