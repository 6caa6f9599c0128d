import type { SpeciesGroupId } from '../stage/profiles.js';
import type { InhabitedStage } from './common.js';
import { minus, NONE, plus, type Tally } from './tally.js';

/**
 * Where animals come from and go to outside of the tanks. `unaccounted` is what a count found to be missing (or too
 * many) against the book: deaths that nobody saw, or an earlier count that was off. `mixed` is what went into, or came
 * out of, a batch put together from several.
 */
export const ACCOUNTS = [
  'brought-in',
  'eggs',
  'mixed',
  'died',
  'culled',
  'sampled',
  'sold',
  'dumped',
  'unaccounted',
] as const;
export type Account = (typeof ACCOUNTS)[number];

/** The animals of one batch in one place. */
export type Lot = Tally & {
  readonly placeId: string;
  readonly batchId: string;
  readonly speciesGroup: SpeciesGroupId;
  readonly stage: InhabitedStage;
  readonly stageSinceMs: number;
  /** In this place since. */
  readonly sinceMs: number;
};

/** Animals that went from one tank or account to another: every one is somewhere before and after. */
export type Movement = {
  readonly entryId: string;
  readonly atMs: number;
  readonly batchId: string;
  readonly from: Side;
  readonly to: Side;
  readonly animals: number;
};
export type Side = { readonly placeId: string } | { readonly account: Account };

/** Double entry: each batch's tanks and accounts always add up to nothing. */
export type Book = {
  readonly lots: readonly Lot[];
  /** Per batch: animals that went out to each account, less those that came from it. */
  readonly accounts: ReadonlyMap<string, { readonly [account in Account]?: number }>;
};
export const EMPTY_BOOK: Book = { lots: [], accounts: new Map() };

export const lotsIn = ({ lots }: Book, placeId: string): readonly Lot[] =>
  lots.filter((lot) => lot.placeId === placeId);
export const lotOf = ({ lots }: Book, placeId: string, batchId: string): Lot | undefined =>
  lots.find((lot) => lot.placeId === placeId && lot.batchId === batchId);
export const totalOf = (lots: readonly Tally[]): Tally => lots.reduce<Tally>((sum, lot) => plus(sum, lot), NONE);

const withLot = (book: Book, lot: Lot): Book => {
  const others = book.lots.filter(({ placeId, batchId }) => placeId !== lot.placeId || batchId !== lot.batchId);
  return { ...book, lots: lot.animals === 0 && lot.high === 0 ? others : [...others, lot] };
};

const withAccount = (book: Book, batchId: string, account: Account, animals: number): Book => {
  const before = book.accounts.get(batchId) ?? {};
  const after = { ...before, [account]: (before[account] ?? 0) + animals };
  return { ...book, accounts: new Map(book.accounts).set(batchId, after) };
};

/** The lot with so many more, as the newcomer describes them when the place had none of the batch. */
export const added = (book: Book, lot: Lot): Book => {
  const here = lotOf(book, lot.placeId, lot.batchId);
  return withLot(book, here === undefined ? lot : { ...here, ...plus(here, lot) });
};

/** The lot with so many less; `left` where a count says what is left better than the book does. */
export const removed = (book: Book, lot: Lot, tally: Tally, left: Tally = minus(lot, tally)): Book =>
  withLot(book, { ...lot, ...(left.animals === 0 ? NONE : left) });

export const changed = withLot;
export const charged = withAccount;

/** What a batch's tanks and accounts add up to: nothing, or the book is wrong. */
export const imbalance = ({ lots, accounts }: Book, batchId: string): number => {
  const inTanks = lots.reduce((sum, lot) => sum + (lot.batchId === batchId ? lot.animals : 0), 0);
  return Object.values(accounts.get(batchId) ?? {}).reduce((sum, animals) => sum + animals, inTanks);
};

export const isBalanced = (book: Book): boolean =>
  [...new Set([...book.accounts.keys(), ...book.lots.map(({ batchId }) => batchId)])].every(
    (batchId) => imbalance(book, batchId) === 0,
  ) && book.lots.every(({ animals, low, high }) => animals >= 0 && low >= 0 && low <= animals && animals <= high);
