import type { Course, Heard, Moment } from './course.js';
import { liveWithout } from './course.js';
import type { Night } from './night.js';
import { MINUTE_MS } from './span.js';
import { sourcesOf } from './told.js';

/**
 * Whether the probes could have shown a failure at all: the night is lived once more without it, and a reading that
 * differs by more than this between the two, or that is missing in one, is the failure showing. Far above any noise; far
 * below any limit.
 */
const SHOWS: { readonly [quantity: string]: number } = {
  temperature: 0.5,
  conductivity: 1.2,
  salinity: 0.8,
  'oxygen-mg-l': 0.4,
  'oxygen-saturation': 5,
  level: 0.02,
  flow: 1,
  contact: 0.5,
};
/** Seen for so long, and so long before the harm that a person could still come. */
const FOR_MS = 10 * MINUTE_MS;
export const REACH_MS = 15 * MINUTE_MS;

/** When the failure had first shown for ten minutes; undefined when never in time for the harm. */
export const shownFromMs = (night: Night, course: Course, harmMs: number): number | undefined => {
  if (night.failure === undefined || course.atFailure === undefined) return undefined;
  const untilMs = harmMs - REACH_MS;
  if (untilMs <= night.failure.fromMs) return undefined;
  const twin = liveWithout(night, course.atFailure, untilMs);
  const isAbout = new Set(night.failure.places);
  const reaches = sourcesOf(night.plant).map(({ probe }) => {
    const id = probe.place.kind === 'header' ? probe.place.line : probe.place.id;
    return isAbout.has(id) ? (SHOWS[probe.quantity] ?? Infinity) : Infinity;
  });
  const sinceMs: (number | undefined)[] = reaches.map(() => undefined);
  const twinAt = new Map(twin.map((moment) => [moment.atMs, moment]));
  for (const moment of course.moments) {
    const other = twinAt.get(moment.atMs);
    if (other === undefined) continue;
    const differs = differing(moment, other, reaches);
    for (let index = 0; index < reaches.length; index += 1) {
      sinceMs[index] = differs.has(index) ? (sinceMs[index] ?? moment.atMs) : undefined;
      const since = sinceMs[index];
      if (since !== undefined && moment.atMs - since >= FOR_MS) return moment.atMs;
    }
  }
  return undefined;
};

const bySource = (heard: readonly Heard[]): Map<number, Heard> => new Map(heard.map((one) => [one.sourceId, one]));

/** Places in the list of sources whose readings tell the two nights apart. */
const differing = (a: Moment, b: Moment, reaches: readonly number[]): ReadonlySet<number> => {
  const inA = bySource(a.heard);
  const inB = bySource(b.heard);
  const found = new Set<number>();
  reaches.forEach((reach, index) => {
    if (reach === Infinity) return;
    const one = inA.get(index + 1);
    const other = inB.get(index + 1);
    if (one === undefined && other === undefined) return;
    if (one === undefined || other === undefined) found.add(index);
    else if (one.isHonest !== other.isHonest) found.add(index);
    else if (one.isHonest && Math.abs(one.raw - other.raw) > reach) found.add(index);
  });
  return found;
};
