import type { Harm, Line } from '../conditions/finding.js';
import { SETTLE_MS } from '../quality/settle.js';
import type { Quantity } from '../quantity.js';
import type { DatedWants } from '../review/exposure.js';
import type { Span } from '../review/piece.js';
import type { ChannelReadings, GapReason } from '../wire/api.js';
import type { Wants } from '../wire/picture.js';
import type { Task } from '../work.js';
import type { Lack } from './lack.js';

/** One channel of the night, in buckets, with the lines as they ruled through it. */
export type ChannelNight = {
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly computed: boolean;
  readonly readings: Pick<ChannelReadings, 'atMs' | 'min' | 'mean' | 'max' | 'bucketMs' | 'gaps'>;
  readonly wants: DatedWants;
  /** Declared work at its place: what was read meanwhile is the work's, not the night's. */
  readonly work: readonly Span[];
};

export type Extreme = { readonly value: number; readonly atMs: number };

/** One tank's night on one line. */
export type MorningRow = {
  readonly placeId: string;
  /** % of saturation, and when. */
  readonly lowestOxygen?: Extreme;
  readonly lowestC?: Extreme;
  readonly highestC?: Extreme;
  readonly outsideTargetMs: number;
  readonly outsideLimitMs: number;
  readonly silentMs: number;
};

/** An alarm of the night and how it was answered. */
export type MorningWaking = {
  readonly faultId: string;
  readonly placeId: string;
  readonly condition: string;
  readonly atMs: number;
  readonly calls: number;
  readonly answeredMs?: number;
  readonly answeredBy?: string;
  readonly endedMs?: number;
  /** The morning's question, where it was answered. */
  readonly real?: boolean;
};

/** What was foretold, and what came. `averted`: the line was not reached by the latest time foretold. */
export type ScoredForecast = {
  readonly placeId: string;
  readonly line: Line;
  readonly harm: Harm;
  readonly outcome: 'in-interval' | 'early' | 'late' | 'averted' | 'open';
  readonly reachedMs?: number;
};

export type MorningReport = {
  readonly fromMs: number;
  readonly toMs: number;
  /** Worst first. */
  readonly rows: readonly MorningRow[];
  readonly wakings: readonly MorningWaking[];
  readonly forecasts: readonly ScoredForecast[];
  readonly overdue: readonly { readonly placeId: string; readonly task: Task; readonly dueMs: number }[];
  readonly notWatched: readonly { readonly channelId: string; readonly why: string }[];
  /** What keeps people from being woken. */
  readonly lacks: readonly Lack[];
};

const isBelow = (value: number, line: number | undefined): boolean => line !== undefined && value < line;
const isAbove = (value: number, line: number | undefined): boolean => line !== undefined && value > line;

const wantsOf = ({ wants }: ChannelNight, atMs: number): Wants | undefined =>
  wants.findLast(({ fromMs }) => fromMs <= atMs)?.wants;

type Values = readonly (number | null)[];

const extreme = (
  values: Values,
  atMs: readonly number[],
  isBetter: (a: number, b: number) => boolean,
): Extreme | undefined => {
  let best: Extreme | undefined;
  for (const [index, value] of values.entries()) {
    const at = atMs[index];
    if (value === null || at === undefined) continue;
    if (best === undefined || isBetter(value, best.value)) best = { value, atMs: at };
  }
  return best;
};

/** Time in buckets whose mean lies outside; single readings stand for the time to the next, ten minutes at most. */
const outsideMs = (channel: ChannelNight, isOutside: (mean: number, wants: Wants | undefined) => boolean): number => {
  const { atMs, mean, bucketMs } = channel.readings;
  return mean.reduce<number>((sum, value, index) => {
    const at = atMs[index] ?? 0;
    const lengthMs = bucketMs > 0 ? bucketMs : Math.min(LONGEST_MS, Math.max(0, (atMs[index + 1] ?? at) - at));
    return value !== null && isOutside(value, wantsOf(channel, at)) ? sum + lengthMs : sum;
  }, 0);
};
const LONGEST_MS = 600_000;

const SILENT: readonly GapReason[] = ['board-silent', 'broker-down', 'gateway-down', 'no-source'];
const silentMs = ({ readings }: ChannelNight): number =>
  readings.gaps
    .filter(({ reason }) => SILENT.includes(reason))
    .reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);

/** Without what was read during declared work, and until the water has settled after it. */
const apartFromWork = (channel: ChannelNight): ChannelNight => {
  const { readings, work } = channel;
  const { atMs, bucketMs } = readings;
  const isWork = (at: number): boolean =>
    work.some(({ fromMs, toMs }) => at < toMs + SETTLE_MS && at + Math.max(bucketMs, 1) > fromMs);
  const keep = (values: Values): (number | null)[] =>
    values.map((value, index) => (isWork(atMs[index] ?? 0) ? null : value));
  const { min, mean, max } = readings;
  return { ...channel, readings: { ...readings, min: keep(min), mean: keep(mean), max: keep(max) } };
};

const rowOf = (placeId: string, channels: readonly ChannelNight[]): MorningRow => {
  const of = (quantity: Quantity): ChannelNight | undefined => channels.find((one) => one.quantity === quantity);
  const [oxygen, temperature] = [of('oxygen-saturation'), of('temperature')];
  const lowest = (channel: ChannelNight | undefined) =>
    channel && extreme(channel.readings.min, channel.readings.atMs, (a, b) => a < b);
  const highest = (channel: ChannelNight | undefined) =>
    channel && extreme(channel.readings.max, channel.readings.atMs, (a, b) => a > b);
  const [lowestOxygen, lowestC, highestC] = [lowest(oxygen), lowest(temperature), highest(temperature)];
  const worst = (measure: (channel: ChannelNight) => number): number => Math.max(0, ...channels.map(measure));
  return {
    placeId,
    ...(lowestOxygen === undefined ? {} : { lowestOxygen }),
    ...(lowestC === undefined ? {} : { lowestC }),
    ...(highestC === undefined ? {} : { highestC }),
    outsideTargetMs: worst((one) =>
      outsideMs(one, (mean, wants) => isBelow(mean, wants?.targetLow) || isAbove(mean, wants?.targetHigh)),
    ),
    outsideLimitMs: worst((one) =>
      outsideMs(one, (mean, wants) => isBelow(mean, wants?.limitLow) || isAbove(mean, wants?.limitHigh)),
    ),
    silentMs: worst((one) => (one.computed ? 0 : silentMs(one))),
  };
};

/** Every tank's night, worst first: outside a limit, then silent, then outside its target. */
export const morningRows = (channels: readonly ChannelNight[]): readonly MorningRow[] => {
  const places = [...new Set(channels.map(({ placeId }) => placeId))];
  return places
    .map((placeId) => rowOf(placeId, channels.filter((one) => one.placeId === placeId).map(apartFromWork)))
    .sort(
      (a, b) => b.outsideLimitMs - a.outsideLimitMs || b.silentMs - a.silentMs || b.outsideTargetMs - a.outsideTargetMs,
    );
};

/** Whether what was foretold came, by what was read afterwards. */
export const scoreForecast = (
  { placeId, line, harm }: Pick<ScoredForecast, 'placeId' | 'line' | 'harm'>,
  { atMs, min, max }: ChannelNight['readings'],
  nowMs: number,
): ScoredForecast => {
  const values = line.side === 'high' ? max : min;
  const index = values.findIndex((value, at) => {
    if (value === null || (atMs[at] ?? 0) < harm.earliestMs - EARLY_LOOK_MS) return false;
    return line.side === 'high' ? value >= line.value : value <= line.value;
  });
  const reachedMs = index === -1 ? undefined : atMs[index];
  const scored = { placeId, line, harm };
  if (reachedMs === undefined) return { ...scored, outcome: nowMs > (harm.latestMs ?? harm.atMs) ? 'averted' : 'open' };
  const outcome =
    reachedMs < harm.earliestMs ? 'early' : reachedMs > (harm.latestMs ?? Infinity) ? 'late' : 'in-interval';
  return { ...scored, outcome, reachedMs };
};
/** What came sooner than foretold is looked for so far before it. */
const EARLY_LOOK_MS = 6 * 3_600_000;
