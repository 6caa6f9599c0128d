import { makeChannelId, parseChannelId } from '../channel.js';
import type { ConditionCode } from '../conditions/finding.js';
import type { Calibration, Hatchery, Mapping } from '../hatchery.js';
import type { Place } from '../place.js';
import { defaultQualitySettings, type QualitySettings } from '../quality/judge.js';
import { type Conversion, conversionFrom, type Quantity } from '../quantity.js';
import { airPressureKpaFromAltitude } from '../seawater/air-pressure.js';
import { ATMOSPHERE_KPA } from '../seawater/range.js';
import { courseOf, wantsFor } from '../stage/wants.js';
import type { Wants } from '../wire/picture.js';
import { COMPUTATIONS, computationsAt } from './compute.js';
import { type CoverPlan, coverPlan } from './cover-plan.js';
import { type JudgementPlan, judgementsOf, looksAtReadings } from './judgement-plan.js';
import { gathered, type Relations, relationsOf } from './relations.js';

export type ProbePlan = {
  /** Its place in `plan.probes`. */
  readonly index: number;
  readonly sourceId: number;
  readonly channel: number;
  readonly quantity: Quantity;
  readonly unit: string;
  /** From its unit to the canonical one; undefined for a unit that nobody knows. */
  readonly conversion: Conversion | undefined;
  /** It hangs in the water of a place. */
  readonly inWater: boolean;
  readonly ruling: boolean;
  readonly periodMs: number | undefined;
  readonly slope: number;
  readonly offset: number;
  readonly quality: QualitySettings;
};

export type ChannelPlan = {
  readonly id: string;
  readonly place: number;
  readonly quantity: Quantity;
  readonly position: string | undefined;
  readonly computed: boolean;
  readonly wants: Wants | undefined;
  /** Its target moves: `wants` is what it wants whenever that is. */
  readonly moving: boolean;
  /** Judgements to make when this channel is read, in the order of the list of conditions. */
  readonly judgements: readonly number[];
  /** Its own judgements of silence, and of limit and ceiling: what a screen shows is decided by them. */
  readonly silences: readonly number[];
  readonly limits: readonly number[];
  /** Something may be computed from it. */
  readonly feeds: boolean;
  /** Its probe hangs in the water. */
  readonly inWater: boolean;
};

export type PlacePlan = {
  readonly place: Place;
  readonly channels: readonly number[];
  /** Those of them that are computed. */
  readonly computed: readonly number[];
  /** The channel of each quantity that stands for the whole place: the one without a position. */
  readonly standing: ReadonlyMap<Quantity, number>;
};

/** The settings compiled once per change, so that a reading finds its way by index. */
export type Plan = {
  readonly probes: readonly ProbePlan[];
  readonly channels: readonly ChannelPlan[];
  readonly places: readonly PlacePlan[];
  readonly judgements: readonly JudgementPlan[];
  readonly probeOf: ReadonlyMap<number, number>;
  /** Probes beside the ruling one, by the channel that they are mapped to. */
  readonly companionsOf: ReadonlyMap<number, readonly number[]>;
  /** Probes of the channels that a board carries, companions with them. */
  readonly probesOn: ReadonlyMap<string, readonly number[]>;
  readonly channelOf: ReadonlyMap<string, number>;
  readonly relations: Relations;
  readonly covers: CoverPlan;
  /** Air pressure on site, from its altitude. */
  readonly pressureKpa: number;
};

const inForce = <T extends { readonly fromMs: number; readonly toMs?: number }>(
  rows: readonly T[],
  atMs: number,
): readonly T[] => rows.filter(({ fromMs, toMs }) => fromMs <= atMs && (toMs === undefined || atMs < toMs));

const calibrationOf = (
  rows: readonly Calibration[],
  sourceId: number,
  atMs: number,
): { slope: number; offset: number } => {
  const mine = rows.filter((row) => row.sourceId === sourceId && row.fromMs <= atMs);
  const latest = mine.reduce<Calibration | undefined>(
    (best, row) => (best === undefined || row.fromMs >= best.fromMs ? row : best),
    undefined,
  );
  return { slope: latest?.slope ?? 1, offset: latest?.offset ?? 0 };
};

const pressureAt = (altitudeM: number | undefined): number => {
  const answer = altitudeM === undefined ? undefined : airPressureKpaFromAltitude({ altitudeM });
  return answer?.ok === true ? answer.value : ATMOSPHERE_KPA;
};

/** Quantities whose probe hangs in the tank's water: they go dry together. */
const IN_WATER: ReadonlySet<string> = new Set<Quantity>([
  'temperature',
  'conductivity',
  'specific-conductance',
  'salinity',
  'oxygen-mg-l',
  'oxygen-saturation',
  'ph',
  'orp',
]);

const LIMIT_CODES: ReadonlySet<string> = new Set<ConditionCode>([
  'above-limit',
  'below-limit',
  'above-ceiling',
  'below-ceiling',
]);

type Draft = Omit<ChannelPlan, 'judgements' | 'silences' | 'limits' | 'moving' | 'feeds' | 'inWater'>;

const channelsOf = (places: readonly Place[], mappings: readonly Mapping[]): Draft[] => {
  const channels = new Map<string, Draft>();
  for (const { channelId } of mappings) {
    const address = parseChannelId(channelId);
    const place = places.findIndex(({ id }) => id === address?.placeId);
    if (address === undefined || place < 0) continue;
    const wants = wantsFor(places[place], address.quantity);
    channels.set(channelId, {
      id: channelId,
      place,
      quantity: address.quantity,
      position: address.position,
      computed: false,
      wants,
    });
  }
  places.forEach((place, index) => {
    const measured = new Set(
      [...channels.values()]
        .filter((channel) => channel.place === index && channel.position === undefined)
        .map(({ quantity }) => quantity),
    );
    for (const { gives: quantity } of computationsAt(measured)) {
      const id = makeChannelId({ placeId: place.id, quantity, computed: true });
      const wants = wantsFor(place, quantity);
      channels.set(id, { id, place: index, quantity, position: undefined, computed: true, wants });
    }
  });
  return [...channels.values()];
};

/** A place's own judgements hear all its channels; a board's and the site's have a place only for drawing. */
const listens = ({ condition: { scope }, channel, place }: JudgementPlan, draft: Draft, index: number): boolean =>
  channel === index || (scope === 'place' && place === draft.place);

/** Which of the judgements that hear a channel decide what a screen shows of it. */
const shownBy = (
  judgements: readonly JudgementPlan[],
  heard: readonly number[],
  index: number,
): Pick<ChannelPlan, 'silences' | 'limits'> => {
  const own = heard.filter((at) => judgements[at]?.channel === index);
  const codeOf = (at: number): ConditionCode | undefined => judgements[at]?.condition.code;
  return {
    silences: own.filter((at) => codeOf(at) === 'silent'),
    limits: own.filter((at) => LIMIT_CODES.has(codeOf(at) ?? '')),
  };
};

const probesIn = (probes: readonly { readonly channel: number }[], channels: readonly number[]): readonly number[] => {
  const carried = new Set(channels);
  return probes.flatMap(({ channel }, index) => (carried.has(channel) ? [index] : []));
};

const placePlan = (place: Place, index: number, channels: readonly ChannelPlan[]): PlacePlan => {
  const own = channels.flatMap((channel, at) => (channel.place === index ? [{ channel, at }] : []));
  return {
    place,
    channels: own.map(({ at }) => at),
    computed: own.flatMap(({ channel, at }) => (channel.computed ? [at] : [])),
    standing: new Map(
      own.toReversed().flatMap(({ channel, at }) => (channel.position === undefined ? [[channel.quantity, at]] : [])),
    ),
  };
};

export const planFor = (hatchery: Hatchery, atMs: number): Plan => {
  const mappings = inForce(hatchery.mappings, atMs);
  const drafts = channelsOf(hatchery.places, mappings);
  const relations = relationsOf(hatchery, mappings, drafts);
  const { site, places: all } = hatchery;
  const judgements = judgementsOf({ siteId: site.id, places: all, channels: drafts, boards: relations.channelsOf });
  const atReadings = judgements.map(looksAtReadings);
  const channels = drafts.map((draft, index) => {
    const heard = judgements.flatMap((judgement, at) =>
      atReadings[at] === true && listens(judgement, draft, index) ? [at] : [],
    );
    return {
      ...draft,
      moving: courseOf(hatchery.places[draft.place], draft.quantity) !== undefined,
      judgements: heard,
      ...shownBy(judgements, heard, index),
      feeds: COMPUTATIONS.some(({ from }) => from === draft.quantity),
      inWater: IN_WATER.has(draft.quantity),
    };
  });
  const channelOf = new Map(channels.map(({ id }, index) => [id, index]));
  const probes = mappings.flatMap((mapping): Omit<ProbePlan, 'index'>[] => {
    const channel = channelOf.get(mapping.channelId);
    const quantity = channel === undefined ? undefined : channels[channel]?.quantity;
    if (channel === undefined || quantity === undefined) return [];
    const { sourceId, unit, ruling, periodMs } = mapping;
    return [
      {
        sourceId,
        channel,
        quantity,
        unit,
        conversion: conversionFrom(quantity, unit),
        inWater: IN_WATER.has(quantity),
        ruling,
        periodMs,
        ...calibrationOf(hatchery.calibrations, sourceId, atMs),
        quality: defaultQualitySettings(quantity, periodMs ?? 10_000),
      },
    ];
  });
  const places = hatchery.places.map((place, index) => placePlan(place, index, channels));
  return {
    probes: probes.map((probe, index) => ({ index, ...probe })),
    channels,
    places,
    judgements,
    probeOf: new Map(probes.map(({ sourceId }, index) => [sourceId, index])),
    companionsOf: gathered(probes.flatMap(({ channel, ruling }, index) => (ruling ? [] : [[channel, index] as const]))),
    probesOn: new Map([...relations.channelsOf].map(([board, carried]) => [board, probesIn(probes, carried)])),
    channelOf,
    relations,
    covers: coverPlan(judgements, hatchery.places, relations),
    pressureKpa: pressureAt(hatchery.site.altitudeM),
  };
};
