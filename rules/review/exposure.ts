import { MOST_UNKNOWN_SHARE } from '../statistics/degree-hours.js';
import type { Sample } from '../statistics/sample.js';
import { GAP_REASONS, type GapReason } from '../wire/api.js';
import type { Wants } from '../wire/picture.js';
import { buildIsAtWork } from './at-work.js';
import { byTime } from './by-time.js';
import { type Dawn, dawnMinima } from './dawn.js';
import { type Fastest, fastestInEach } from './fastest.js';
import { cutAt, firstBeginningAt, hoursOf, isMeasured, type Measured, type Piece, type Span, within } from './piece.js';
import { type BeyondLines, beyondLines, type Ruled } from './spell.js';

const MINUTE_MS = 60_000;

/** Lines as they ruled, each from its moment until the next; before the first none did. In order of time. */
export type DatedWants = readonly { readonly fromMs: number; readonly wants: Wants | undefined }[];

export type ExposureQuestion = {
  readonly pieces: readonly Piece[];
  readonly span: Span;
  readonly wants: DatedWants;
  /** Declared work at the place: its time is told apart and counts as no exposure. */
  readonly work: readonly Span[];
  readonly zone: string;
  /** Without the lowest value of each night: only oxygen has one worth a line, and local days cost time. */
  readonly withoutDawns?: boolean;
};

/** What a tank went through in one channel and window. Unknown time is counted as unknown, and never filled. */
export type Exposure = {
  readonly hours: number;
  /** Measured, in the water, outside declared work: what the figures below are of. */
  readonly measuredH: number;
  readonly unmeasuredH: { readonly [reason in GapReason]?: number };
  readonly lowest?: Sample;
  readonly highest?: Sample;
  /** By time, straight lines between readings. */
  readonly mean?: number;
  /** Below it lay 5 and 95 % of the measured time. */
  readonly p5?: number;
  readonly p95?: number;
  readonly beyond: BeyondLines;
  readonly fastest30?: Fastest;
  readonly fastest60?: Fastest;
  readonly dawns: readonly Dawn[];
  /** The same inside declared work, shown apart. */
  readonly atWork: {
    readonly hours: number;
    readonly lowest?: Sample;
    readonly highest?: Sample;
    readonly beyond: BeyondLines;
  };
  /** More than a tenth of the time outside work is unknown: it was this much, or more. */
  readonly lowerBound: boolean;
  /** Only hours are left of readings that old: peaks are true, times beyond a line are of hourly means. */
  readonly ofHours: boolean;
};

type Apart = { readonly outside: readonly Piece[]; readonly atWork: readonly Piece[] };

/** Pieces within the span, cut where a line or declared work begins or ends; those in declared work by themselves. */
const apart = ({ pieces, span, wants, work }: ExposureQuestion): Apart => {
  const edges = [...wants.map(({ fromMs }) => fromMs), ...work.flatMap((one) => [one.fromMs, one.toMs])];
  const sorted = edges.filter(Number.isFinite).sort((a, b) => a - b);
  const cut = cutAt(within(pieces, span), sorted);
  if (work.length === 0) return { outside: cut, atWork: [] };
  const isAtWork = buildIsAtWork(work);
  const [outside, atWork]: [Piece[], Piece[]] = [[], []];
  for (const piece of cut) (isAtWork(piece) ? atWork : outside).push(piece);
  return { outside, atWork };
};

/** Both in order of time: a stretch of pieces for each of the lines. */
const withWants = (pieces: readonly Measured[], wants: DatedWants): readonly Ruled[] => {
  const stretches: Ruled[] = [];
  let from = 0;
  for (const [n, ruling] of [undefined, ...wants].entries()) {
    const nextMs = wants[n]?.fromMs ?? Number.POSITIVE_INFINITY;
    const to = Math.max(from, firstBeginningAt(pieces, nextMs));
    if (to > from) stretches.push({ pieces: pieces.slice(from, to), wants: ruling?.wants });
    from = to;
  }
  return stretches;
};

const extremes = (pieces: readonly Measured[]): { readonly lowest?: Sample; readonly highest?: Sample } => {
  let [lowest, highest]: [Sample | undefined, Sample | undefined] = [undefined, undefined];
  for (const { fromMs, toMs, from, to, low, high } of pieces) {
    const [least, most] = [low ?? Math.min(from, to), high ?? Math.max(from, to)];
    if (lowest === undefined || least < lowest.value) lowest = { atMs: to < from ? toMs : fromMs, value: least };
    if (highest === undefined || most > highest.value) highest = { atMs: to > from ? toMs : fromMs, value: most };
  }
  return lowest === undefined || highest === undefined ? {} : { lowest, highest };
};

const total = (spans: readonly Span[]): number => spans.reduce((sum, span) => sum + hoursOf(span), 0);

const meanOf = (pieces: readonly Measured[], hours: number): number =>
  pieces.reduce((sum, piece) => sum + (hoursOf(piece) * (piece.from + piece.to)) / 2, 0) / hours;

const summary = (pieces: readonly Measured[], hours: number) => {
  if (hours === 0) return {};
  const [p5 = 0, p95 = 0] = byTime(pieces, hours, [0.05, 0.95]);
  return { ...extremes(pieces), mean: meanOf(pieces, hours), p5, p95 };
};

const fastest = (pieces: readonly Measured[]) => {
  const [half, hour] = fastestInEach(pieces, [30 * MINUTE_MS, 60 * MINUTE_MS]);
  return { ...(half === undefined ? {} : { fastest30: half }), ...(hour === undefined ? {} : { fastest60: hour }) };
};

/**
 * Exposure of one channel in one window: hours, degree-hours (or mg/L-hours) beyond each line as it ruled then, longest
 * spell, fastest change, dawn minima. Declared work, time out of water and gaps are told apart. Check: 18 to 22 °C in
 * 4 h with a target up to 20 °C: 2 h, 2 °C h. Source: geometry (rules/statistics/degree-hours.ts).
 */
export const exposureOf = (question: ExposureQuestion): Exposure => {
  const { span, wants, zone, withoutDawns = false } = question;
  const { outside, atWork } = apart(question);
  const [measured, working] = [outside.filter(isMeasured), atWork.filter(isMeasured)];
  const measuredH = total(measured);
  const unmeasured = outside.filter((piece) => !isMeasured(piece));
  const ofHours = measured.some(({ low }) => low !== undefined);
  return {
    hours: hoursOf(span),
    measuredH,
    unmeasuredH: byReason(unmeasured),
    ...summary(measured, measuredH),
    beyond: beyondLines(withWants(measured, wants)),
    ...(ofHours ? {} : fastest(measured)),
    dawns: withoutDawns ? [] : dawnMinima(outside, span, zone),
    atWork: { hours: total(atWork), ...extremes(working), beyond: beyondLines(withWants(working, wants)) },
    lowerBound: total(unmeasured) > MOST_UNKNOWN_SHARE * (measuredH + total(unmeasured)),
    ofHours,
  };
};

const byReason = (pieces: readonly Piece[]): Exposure['unmeasuredH'] =>
  Object.fromEntries(
    GAP_REASONS.flatMap((reason) => {
      const hours = total(pieces.filter((piece) => !isMeasured(piece) && piece.reason === reason));
      return hours === 0 ? [] : [[reason, hours]];
    }),
  );
