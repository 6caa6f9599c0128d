import type { Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import type { Use } from '../journal/use.js';
import type { HistoryRow } from './history.js';
import type { RowsSum } from './rows-sum.js';

/** Several readings in one, corrected: a whole hour. The numbers are over the usable ones; undefined when there are none. */
export type Lump = {
  readonly firstMs: number;
  readonly lastMs: number;
  readonly readings: number;
  readonly usable: number;
  readonly water?: { readonly min: number; readonly mean: number; readonly max: number };
  /** Why most of the others are not usable. */
  readonly otherwise: Use;
};

/** Takes readings and lumps in order of time. `value` is undefined exactly when the reading is not usable. */
export type Sink = {
  reading(atMs: number, value: number | undefined, use: Use): void;
  lump(lump: Lump): void;
};

/** One channel's past, wherever it comes from: measured by sources in turn, or computed from other channels. */
export type Track = {
  readonly quantity: Quantity;
  /** When there was a source, in order, within the span that the track was made for. */
  readonly covered: readonly TimeSpan[];
  /** Longest period that somebody told us. */
  readonly periodMs?: number;
  /** Readings in the span, counted no further than `atMost`. */
  count(span: TimeSpan, atMost: number): number;
  /** Whole hours may be given as lumps when `lumped`. */
  walk(span: TimeSpan, lumped: boolean, sink: Sink): void;
  /** Of the span's whole hours those that a lumped walk would compute from readings; none where hours are kept. */
  uncomputed(span: TimeSpan): readonly TimeSpan[];
  /** Times of the nearest readings outside the span, of the sources that ruled at its ends. */
  lastBefore(fromMs: number): number | undefined;
  firstFrom(toMs: number): number | undefined;
  /** Adds every reading as `page` would give it; a computed channel has none of its own. */
  addRows?(span: TimeSpan, sum: RowsSum): void;
  /** The first readings of the span with everything that is known of them; all of a millisecond or none. */
  page(span: TimeSpan): { readonly rows: readonly HistoryRow[]; readonly continueMs?: number };
};
