import type { Measured } from './piece.js';

/** The largest change within a window of time, up or down. */
export type Fastest = { readonly change: number; readonly fromMs: number; readonly toMs: number };

type Run = { readonly atMs: readonly number[]; readonly value: readonly number[] };

/** Pieces that touch, as one broken line; where two do not touch, or a value jumps, another begins. */
const runsOf = (pieces: readonly Measured[]): readonly Run[] => {
  const runs: { atMs: number[]; value: number[] }[] = [];
  let run: { atMs: number[]; value: number[] } | undefined;
  let [endMs, end] = [Number.NaN, Number.NaN];
  for (const { fromMs, toMs, from, to } of pieces) {
    if (run !== undefined && endMs === fromMs && end === from) {
      run.atMs.push(toMs);
      run.value.push(to);
    } else {
      run = { atMs: [fromMs, toMs], value: [from, to] };
      runs.push(run);
    }
    endMs = toMs;
    end = to;
  }
  return runs;
};

/** The value of a run at rising times, each found from where the last one was. */
const buildReader = ({ atMs, value }: Run): ((at: number) => number) => {
  let n = 1;
  return (at) => {
    while (n < atMs.length - 1 && (atMs[n] ?? 0) < at) n += 1;
    const [fromMs = 0, toMs = 0, from = 0, to = 0] = [atMs[n - 1], atMs[n], value[n - 1], value[n]];
    return from + ((to - from) * (at - fromMs)) / (toMs - fromMs);
  };
};

/**
 * The largest change over any window of this length in which every moment was measured. The difference of two broken
 * lines is itself one: its largest value is where the window begins or ends at a reading. Check: 22.1 to 26.0 °C in
 * half an hour, window 30 min: 3.9 °C (rules/husbandry/fastest-change.ts, the same in the plainest way).
 */
export const fastestIn = (pieces: readonly Measured[], windowMs: number): Fastest | undefined =>
  fastestOf(runsOf(pieces), windowMs);

/** The same for several lengths, over a line that is joined once. */
export const fastestInEach = (
  pieces: readonly Measured[],
  windowsMs: readonly number[],
): readonly (Fastest | undefined)[] => {
  const runs = runsOf(pieces);
  return windowsMs.map((windowMs) => fastestOf(runs, windowMs));
};

const fastestOf = (runs: readonly Run[], windowMs: number): Fastest | undefined => {
  let most: Fastest | undefined;
  for (const run of runs) {
    const [firstMs, lastMs] = [run.atMs[0] ?? 0, run.atMs.at(-1) ?? 0];
    for (const shift of [0, windowMs]) {
      const [startAt, endAt] = [buildReader(run), buildReader(run)];
      for (const at of run.atMs) {
        const fromMs = at - shift;
        const toMs = fromMs + windowMs;
        if (fromMs < firstMs || toMs > lastMs) continue;
        const change = endAt(toMs) - startAt(fromMs);
        if (most === undefined || Math.abs(change) > Math.abs(most.change)) most = { change, fromMs, toMs };
      }
    }
  }
  return most;
};
