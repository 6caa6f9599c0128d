import type { Answer } from '../answer.js';
import { ok } from '../result.js';
import { isSample, type Sample } from './sample.js';
import { type TheilSen, theilSen } from './theil-sen.js';

const MS_PER_HOUR = 3_600_000;

/** The recent past of one stream, for its slope: plain and unchanging, so that it can be kept and replayed. */
export type SlopeWindow = {
  /** Samples older than the newest by more than this are gone. */
  readonly spanMs: number;
  /** At most one sample, the last, for each step of this length: 1 keeps every sample. */
  readonly stepMs: number;
  /** In order of time. */
  readonly samples: readonly Sample[];
};

/** A trend per hour, with the time it was taken over. */
export type SlopePerHour = Omit<TheilSen, 'intercept'> & { readonly fromMs: number; readonly toMs: number };

/**
 * An empty window, from ms and ms; it will hold span / step + 1 samples at most. Choose span and step so that span /
 * step is a few hundred at most: the work grows with its square.
 * Source: arithmetic. Check: 30 minutes in steps of 1 hold 31.
 */
export const startSlopeWindow = ({ spanMs, stepMs }: { readonly spanMs: number; readonly stepMs: number }) =>
  ({ spanMs: Math.max(1, spanMs), stepMs: Math.max(1, stepMs), samples: [] }) satisfies SlopeWindow;

/**
 * The window with one more sample. The order of arrival does not matter: a late sample takes its place if it is still
 * inside the span. Of two in one step the later is kept, of two at one time the one that came last.
 * What is not a number is not a sample: the window stays as it was.
 * Source: arithmetic. Check: a sample each second for an hour, 30 minutes in steps of 1: the last 31 minutes, one each.
 */
export const slideSlopeWindow = (window: SlopeWindow, sample: Sample): SlopeWindow => {
  if (!isSample(sample)) return window;
  const newestMs = Math.max(sample.atMs, window.samples.at(-1)?.atMs ?? sample.atMs);
  const stepOf = (atMs: number): number => Math.floor(atMs / window.stepMs);
  const step = stepOf(sample.atMs);
  const rival = window.samples.find((kept) => stepOf(kept.atMs) === step);
  if (rival !== undefined && rival.atMs > sample.atMs) return window;
  const samples = [...window.samples.filter((kept) => kept !== rival), sample]
    .filter((kept) => newestMs - kept.atMs <= window.spanMs)
    .sort((a, b) => a.atMs - b.atMs);
  return { ...window, samples };
};

/**
 * Theil-Sen slope per hour of what is in the window, with the interval from 10 samples on.
 * Answers for 3 samples or more and a confidence of 0.5 to 0.9999. Time is counted from the newest sample, which keeps
 * the arithmetic exact.
 * Source: as in theil-sen.ts. Check: 11 samples falling by 0.1 every 6 minutes: -1 per hour.
 */
export const slopePerHour = (window: SlopeWindow, confidence = 0.95): Answer<SlopePerHour> => {
  const toMs = window.samples.at(-1)?.atMs ?? 0;
  const points = window.samples.map(({ atMs, value }) => ({ x: (atMs - toMs) / MS_PER_HOUR, y: value }));
  const trend = theilSen({ points, confidence });
  if (!trend.ok) return trend;
  const { intercept: _, ...rest } = trend.value;
  return ok({ ...rest, fromMs: window.samples[0]?.atMs ?? toMs, toMs });
};
