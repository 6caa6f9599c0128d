import { createHash } from 'node:crypto';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import type { HistoryRow } from './history.js';

/** SHA-256 over everything that an export says of a channel's readings, whatever pages or blocks they come in. */
export type RowsSum = {
  add(row: SummedRow): void;
  hex(): string;
};

type SummedRow = readonly [
  atMs: number,
  arrivalMs: number,
  sourceId: number,
  variant: number,
  raw: number,
  flags: number,
  refusedMs: number,
  value: number,
  usable: number,
];

const WIDTH = 9;
const ROWS = 1_024;
/** What nobody sent, or what cannot be computed: a number, because not every NaN is the same bytes. */
export const NOTHING = -1;

export const buildRowsSum = (): RowsSum => {
  const hash = createHash('sha256');
  const numbers = new Float64Array(ROWS * WIDTH);
  let filled = 0;
  const pour = (): void => {
    hash.update(numbers.subarray(0, filled));
    filled = 0;
  };
  return {
    add: (row) => {
      for (let n = 0; n < WIDTH; n += 1) numbers[filled + n] = row[n] ?? NOTHING;
      filled += WIDTH;
      if (filled === numbers.length) pour();
    },
    hex: () => {
      pour();
      return hash.digest('hex');
    },
  };
};

/** One reading as it is exported. */
export const summedRow = ({ atMs, arrivalMs, sent, value = NOTHING, usable }: HistoryRow): SummedRow => {
  const { sourceId = NOTHING, variant = NOTHING, raw = NOTHING, flags = NOTHING, refusedMs = NOTHING } = sent ?? {};
  return [atMs, arrivalMs, sourceId, variant, raw, flags, refusedMs, value, usable ? 1 : 0];
};

/** Readings of a computed channel, each for itself: nothing was sent, and they arrive when they are taken. */
export const addComputed = (sum: RowsSum, { atMs, mean }: ChannelReadings, { fromMs, toMs }: TimeSpan): void => {
  for (let n = 0; n < atMs.length; n += 1) {
    const at = atMs[n] ?? 0;
    if (at < fromMs || at >= toMs) continue;
    const value = mean[n] ?? null;
    sum.add([at, at, NOTHING, NOTHING, NOTHING, NOTHING, NOTHING, value ?? NOTHING, value === null ? 0 : 1]);
  }
};
