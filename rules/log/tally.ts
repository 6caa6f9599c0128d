import { type Answer, impossible } from '../answer.js';
import { replicateCount } from '../husbandry/count.js';
import { ok } from '../result.js';
import type { CountFields } from './common.js';

/** A number of animals and what it may be at 95 %. A number that was simply said has no width of its own. */
export type Tally = { readonly animals: number; readonly low: number; readonly high: number };

export const exactly = (animals: number): Tally => ({ animals, low: animals, high: animals });
export const NONE: Tally = exactly(0);

const LAST_BIT = 1e-3;

/** Whole animals, so that a stock adds up to the last one. */
const rounded = (animals: number, low: number, high: number): Tally => {
  const whole = Math.round(animals);
  // A share of an exact number stays exact: the last bit of a division is no doubt about an animal.
  const [least, most] = [Math.floor(low + LAST_BIT), Math.ceil(high - LAST_BIT)];
  return { animals: whole, low: Math.min(whole, least), high: Math.max(whole, most) };
};

/** What a count comes to: from its subsamples where there are any, else the number with the interval that was given. */
export const tallyOf = ({ animals, low, high, counts, subsampleMl, totalL }: CountFields): Answer<Tally> => {
  if (counts !== undefined) {
    if (subsampleMl === undefined || totalL === undefined) return impossible('count-without-volume');
    const counted = replicateCount({ counts, subsampleMl, totalVolumeMl: 1000 * totalL });
    if (!counted.ok) return counted;
    return ok(rounded(counted.value.animals, counted.value.lowAnimals, counted.value.highAnimals));
  }
  if (animals === undefined) return impossible('nothing-counted');
  const [least, most] = [low ?? animals, high ?? animals];
  if (least > animals || most < animals)
    return impossible('interval-beside-count', { animals, low: least, high: most });
  return ok(rounded(animals, least, most));
};

export const plus = (a: Tally, b: Tally): Tally => ({
  animals: a.animals + b.animals,
  low: a.low + b.low,
  high: a.high + b.high,
});

/** What is left: the widest that both allow, never below nothing. */
export const minus = (a: Tally, b: Tally): Tally => {
  const animals = Math.max(0, a.animals - b.animals);
  return {
    animals,
    low: Math.min(animals, Math.max(0, a.low - b.high)),
    high: Math.max(animals, a.high - b.low),
  };
};

/** So many of them, as sure as the whole is. */
export const portion = (whole: Tally, animals: number): Tally => {
  if (whole.animals === 0) return exactly(animals);
  const share = animals / whole.animals;
  return rounded(animals, whole.low * share, whole.high * share);
};
