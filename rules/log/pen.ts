import {
  type Account,
  added,
  type Book,
  changed,
  charged,
  type Lot,
  lotOf,
  lotsIn,
  type Movement,
  removed,
  totalOf,
} from './book.js';
import type { InhabitedStage } from './common.js';
import type { Entry } from './entry.js';
import { exactly, portion, type Tally } from './tally.js';

/** Something in the record that the book had to take in its stride, for a person to look at. */
export type Doubt = {
  readonly code: 'nothing-there' | 'more-than-there-were' | 'batch-not-there' | 'several-batches' | 'not-countable';
  readonly placeId: string;
  readonly animals?: number;
};

/** A book while an entry is written into it. */
export type Pen = {
  readonly entry: Entry;
  book: Book;
  readonly movements: Movement[];
  readonly doubts: Doubt[];
};

const write = (pen: Pen, batchId: string, from: Movement['from'], to: Movement['to'], animals: number): void => {
  if (animals === 0) return;
  const { id: entryId, atMs } = pen.entry;
  pen.movements.push({ entryId, atMs, batchId, from, to, animals });
};

/** From an account into a tank. */
export const comeIn = (pen: Pen, lot: Lot, account: Account): void => {
  pen.book = charged(added(pen.book, lot), lot.batchId, account, -lot.animals);
  write(pen, lot.batchId, { account }, { placeId: lot.placeId }, lot.animals);
};

/** Out of a tank to an account. More than the book has is taken as an earlier count that was too low. */
export const goOut = (pen: Pen, lot: Lot, animals: number, account: Account): void => {
  const here = enough(pen, lot, animals);
  pen.book = charged(removed(pen.book, here, exactly(animals)), lot.batchId, account, animals);
  write(pen, lot.batchId, { placeId: lot.placeId }, { account }, animals);
};

const enough = (pen: Pen, lot: Lot, animals: number): Lot => {
  if (animals <= lot.animals) return lot;
  const missing = animals - lot.animals;
  pen.doubts.push({ code: 'more-than-there-were', placeId: lot.placeId, animals: missing });
  setTo(pen, lot, { animals, low: Math.min(animals, lot.low), high: Math.max(animals, lot.high) });
  return lotOf(pen.book, lot.placeId, lot.batchId) ?? lot;
};

/** A count: the book's difference goes to `unaccounted`. */
export const setTo = (pen: Pen, lot: Lot, tally: Tally): void => {
  const lost = lot.animals - tally.animals;
  pen.book = charged(changed(pen.book, { ...lot, ...tally }), lot.batchId, 'unaccounted', lost);
  const [here, away] = [{ placeId: lot.placeId }, { account: 'unaccounted' as const }];
  if (lost > 0) write(pen, lot.batchId, here, away, lost);
  if (lost < 0) write(pen, lot.batchId, away, here, -lost);
};

/** From one tank to another, whole or in part. What is parted was counted as one: both parts are as sure as the whole was. */
export const carry = (pen: Pen, lot: Lot, to: string, tally: Tally): void => {
  if (to === lot.placeId) return;
  const here = enough(pen, lot, tally.animals);
  const moved: Lot = { ...here, ...tally, placeId: to, sinceMs: pen.entry.atMs };
  const left = portion(here, here.animals - tally.animals);
  pen.book = added(removed(pen.book, here, tally, left), moved);
  write(pen, lot.batchId, { placeId: lot.placeId }, { placeId: to }, tally.animals);
};

/** Everything in a place becomes one batch of another name; several batches in one water cannot be told apart again. */
export const mix = (pen: Pen, placeId: string, batchId: string): void => {
  const lots = lotsIn(pen.book, placeId);
  const [oldest] = [...lots].sort((a, b) => a.stageSinceMs - b.stageSinceMs);
  if (oldest === undefined || lots.every((lot) => lot.batchId === batchId)) return;
  const total = totalOf(lots.filter((lot) => lot.batchId !== batchId));
  for (const lot of lots) if (lot.batchId !== batchId) goOut(pen, lot, lot.animals, 'mixed');
  comeIn(pen, { ...oldest, ...total, batchId, sinceMs: pen.entry.atMs }, 'mixed');
};

export const setStage = (pen: Pen, placeId: string, stage: InhabitedStage): void => {
  for (const lot of lotsIn(pen.book, placeId)) {
    if (lot.stage !== stage) pen.book = changed(pen.book, { ...lot, stage, stageSinceMs: pen.entry.atMs });
  }
};

/** The lots of an entry's place, or of one batch in it. None is a doubt. */
export const lotsMeant = (pen: Pen, placeId: string, batchId: string | undefined): readonly Lot[] => {
  const here = lotsIn(pen.book, placeId);
  const meant = batchId === undefined ? here : here.filter((lot) => lot.batchId === batchId);
  if (meant.length === 0) pen.doubts.push({ code: here.length === 0 ? 'nothing-there' : 'batch-not-there', placeId });
  return meant;
};

/** Animals taken from several lots in one water: from each its share, to the last one. */
export const shared = (lots: readonly Lot[], animals: number): readonly (readonly [Lot, number])[] => {
  const total = totalOf(lots).animals;
  let left = animals;
  return lots.map((lot, index) => {
    const isLast = index === lots.length - 1;
    const mine = isLast || total === 0 ? left : Math.min(left, Math.round((animals * lot.animals) / total));
    left -= mine;
    return [lot, mine];
  });
};

/** A count of a whole place; of several batches in one water each keeps its share. */
export const recount = (pen: Pen, lots: readonly Lot[], tally: Tally): void => {
  if (lots.length > 1) pen.doubts.push({ code: 'several-batches', placeId: lots[0]?.placeId ?? '' });
  for (const [lot, mine] of shared(lots, tally.animals)) setTo(pen, lot, portion(tally, mine));
};
