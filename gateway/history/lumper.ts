import { HOUR_MS } from '../journal/hour.js';
import type { Use } from '../journal/use.js';
import type { Lump, Sink } from './track.js';

/** Makes one lump of readings. */
export const buildLumper = (): Pick<Sink, 'reading'> & { lump(): Lump } => {
  const count: Record<Use, number> = { usable: 0, 'out-of-water': 0, 'not-plausible': 0, 'fault-value': 0 };
  let [firstMs, lastMs, sum] = [0, 0, 0];
  let [min, max] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let readings = 0;
  return {
    reading: (atMs, value, use) => {
      if (readings === 0) firstMs = atMs;
      readings += 1;
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
      readings,
      usable: count.usable,
      otherwise:
        count['out-of-water'] >= count['not-plausible'] + count['fault-value'] ? 'out-of-water' : 'not-plausible',
      ...(count.usable === 0 ? {} : { water: { min, mean: sum / count.usable, max } }),
    }),
  };
};

/** Makes a lump of each hour's readings, and hands it over by the time at which the hour begins. */
export const buildHourly = (take: (atMs: number, lump: Lump) => void): Pick<Sink, 'reading'> & { end(): void } => {
  let [fromMs, toMs] = [0, Number.NEGATIVE_INFINITY];
  let lumper: ReturnType<typeof buildLumper> | undefined;
  const end = (): void => {
    if (lumper !== undefined) take(fromMs, lumper.lump());
    lumper = undefined;
  };
  return {
    reading: (atMs, value, use) => {
      if (atMs >= toMs) {
        end();
        fromMs = Math.floor(atMs / HOUR_MS) * HOUR_MS;
        toMs = fromMs + HOUR_MS;
        lumper = buildLumper();
      }
      lumper?.reading(atMs, value, use);
    },
    end,
  };
};
