import type { Harm } from '../../rules/conditions/finding.js';

/** Corners of the forecast: from now to the line it will cross, as wide as the interval. Times in ms, places on the scale. */
export type Fan = readonly (readonly [atMs: number, place: number])[];

/** Without a latest time the line may never be reached: the fan stays open to the end of the paper at the present place. */
export const fanOf = (
  now: { readonly atMs: number; readonly place: number },
  harm: Harm,
  linePlace: number,
  endMs: number,
): Fan => {
  if (harm.earliestMs <= now.atMs) return [];
  const open: Fan = [
    [endMs, linePlace],
    [endMs, now.place],
  ];
  const shut: Fan = harm.latestMs === undefined ? open : [[harm.latestMs, linePlace]];
  return [[now.atMs, now.place], [harm.earliestMs, linePlace], ...shut];
};
