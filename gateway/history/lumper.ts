import type { Use } from '../journal/use.js';
import type { Lump, Sink } from './track.js';

/** Makes one lump of readings. */
export const buildLumper = (): Pick<Sink, 'reading'> & { lump(): Lump } => {
  const count: Record<Use, number> = { usable: 0, 'out-of-water': 0, 'not-plausible': 0, 'fault-value': 0 };
  let [firstMs, lastMs, sum] = [0, 0, 0];
  let [min, max] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const total = (): number => count.usable + count['out-of-water'] + count['not-plausible'] + count['fault-value'];
  return {
    reading: (atMs, value, use) => {
      if (total() === 0) firstMs = atMs;
      lastMs = atMs;
      count[use] += 1;
      if (value !== undefined) {
        sum += value;
        min = Math.min(min, value);
        max = Math.max(max, value);
      }
    },
    lump: () => ({
      firstMs,
      lastMs,
      readings: total(),
      usable: count.usable,
      otherwise:
        count['out-of-water'] >= count['not-plausible'] + count['fault-value'] ? 'out-of-water' : 'not-plausible',
      ...(count.usable === 0 ? {} : { water: { min, mean: sum / count.usable, max } }),
    }),
  };
};
