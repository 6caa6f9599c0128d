import { impossible, type Refusal } from '../answer.js';
import type { Place } from '../place.js';
import type { DeclaredWork, WorkKind } from '../work.js';

const HOUR_MS = 3_600_000;

/** Work lasts no longer than this: what is forgotten must ring the same day. Decision of this project. */
const LONGEST_H: { readonly [kind in WorkKind]: number } = {
  'drain-down': 4,
  'water-change': 4,
  'feeding-flow-off': 4,
  filling: 8,
  'probe-service': 4,
  'bed-cleaning': 6,
  disinfection: 24,
  'spawning-run': 10,
  'intake-closed': 24,
  'standby-test': 4,
  resting: 24 * 30,
  alone: 4,
};

const holdsStock = ({ stage, batch }: Place): boolean =>
  (stage !== undefined && stage !== 'empty') || batch !== undefined;

/**
 * Why work cannot be declared so; undefined when it can. Resting takes every rule away: never with stock inside.
 * Source: decision of this project. Check value: filling for 8 h can be declared, for 9 h not.
 */
export const refusalForWork = (
  { kind, fromMs, untilMs }: Pick<DeclaredWork, 'kind' | 'fromMs' | 'untilMs'>,
  place: Place,
): Refusal | undefined => {
  if (untilMs <= fromMs) return impossible('work-ends-before-it-begins').fault;
  const longestH = LONGEST_H[kind];
  if (untilMs - fromMs > longestH * HOUR_MS) return impossible('work-too-long', { longestH }).fault;
  return kind === 'resting' && holdsStock(place) ? impossible('resting-with-stock').fault : undefined;
};
