import { type Book, EMPTY_BOOK, type Movement, totalOf } from './book.js';
import { type Entry, isKind } from './entry.js';
import { carry, comeIn, type Doubt, goOut, lotsMeant, mix, type Pen, recount, setStage, shared } from './pen.js';
import { endSheet } from './sheet.js';
import { portion, tallyOf } from './tally.js';

/** What one entry did to the stock. */
export type StockStep = {
  readonly entry: Entry;
  readonly book: Book;
  readonly movements: readonly Movement[];
  readonly doubts: readonly Doubt[];
};

const TAKEN = { deaths: 'died', cull: 'culled', sample: 'sampled', sale: 'sold' } as const;

const writeIn = (pen: Pen): void => {
  const { entry } = pen;
  const { placeId } = entry;
  if (placeId === undefined) return;
  if (isKind(entry, 'brought-in', 'eggs-stocked')) return begin(pen, entry, placeId);
  if (isKind(entry, 'count')) return countIn(pen, placeId, entry);
  if (isKind(entry, 'deaths', 'cull', 'sample', 'sale')) {
    const { batchId, animals } = entry.fields;
    const account = TAKEN[entry.kind];
    for (const [lot, mine] of shared(lotsMeant(pen, placeId, batchId), animals)) goOut(pen, lot, mine, account);
    return;
  }
  if (isKind(entry, 'dump')) {
    for (const lot of lotsMeant(pen, placeId, undefined)) goOut(pen, lot, lot.animals, 'dumped');
    return;
  }
  if (isKind(entry, 'stage')) return setStage(pen, placeId, entry.fields.stage);
  moveIn(pen, placeId);
};

const moveIn = (pen: Pen, placeId: string): void => {
  const { entry } = pen;
  if (isKind(entry, 'move')) {
    const lots = lotsMeant(pen, placeId, undefined);
    const animals = entry.fields.animals ?? totalOf(lots).animals;
    for (const [lot, mine] of shared(lots, animals)) carry(pen, lot, entry.fields.to, portion(lot, mine));
  } else if (isKind(entry, 'split')) {
    for (const part of entry.fields.to) {
      for (const [lot, mine] of shared(lotsMeant(pen, placeId, undefined), part.animals)) {
        carry(pen, lot, part.placeId, portion(lot, mine));
      }
    }
  } else if (isKind(entry, 'pool')) {
    for (const lot of lotsMeant(pen, placeId, undefined)) carry(pen, lot, entry.fields.to, lot);
    if (entry.fields.batchId !== undefined) mix(pen, entry.fields.to, entry.fields.batchId);
  } else if (isKind(entry, 'drain-down')) endSheet(pen, entry, placeId);
};

const begin = (pen: Pen, entry: Entry<'brought-in' | 'eggs-stocked'>, placeId: string): void => {
  const tally = tallyOf(entry.fields.count);
  if (!tally.ok) return void pen.doubts.push({ code: 'not-countable', placeId });
  const { batchId, speciesGroup } = entry.fields;
  const stage = entry.kind === 'eggs-stocked' ? 'embryo' : entry.fields.stage;
  const { atMs } = entry;
  const lot = { ...tally.value, placeId, batchId, speciesGroup, stage, stageSinceMs: atMs, sinceMs: atMs };
  comeIn(pen, lot, entry.kind === 'eggs-stocked' ? 'eggs' : 'brought-in');
};

const countIn = (pen: Pen, placeId: string, { fields }: Entry<'count'>): void => {
  const tally = tallyOf(fields.count);
  const lots = lotsMeant(pen, placeId, fields.batchId);
  if (!tally.ok) return void pen.doubts.push({ code: 'not-countable', placeId });
  recount(pen, lots, tally.value);
};

/** One entry more. Total: whatever was written, every animal stays accounted for. */
export const stockAfter = (book: Book, entry: Entry): StockStep => {
  const pen: Pen = { entry, book, movements: [], doubts: [] };
  writeIn(pen);
  return { entry, book: pen.book, movements: pen.movements, doubts: pen.doubts };
};

/** A step without the book after it: what is kept of years of entries. */
export type StockMove = Omit<StockStep, 'book'>;
export type Stock = { readonly book: Book; readonly moves: readonly StockMove[] };
export const EMPTY_STOCK: Stock = { book: EMPTY_BOOK, moves: [] };

export const stockWith = ({ book, moves }: Stock, entry: Entry): Stock => {
  const step = stockAfter(book, entry);
  if (step.book === book && step.doubts.length === 0) return { book, moves };
  const { book: after, ...move } = step;
  return { book: after, moves: [...moves, move] };
};

/** The stock from the ruling entries. */
export const replayStock = (entries: readonly Entry[]): Stock => {
  const moves: StockMove[] = [];
  let book = EMPTY_BOOK;
  for (const { book: after, ...move } of stockSteps(entries)) {
    if (after !== book || move.doubts.length > 0) moves.push(move);
    book = after;
  }
  return { book, moves };
};

/** Entry by entry, each with the book after it. */
export function* stockSteps(entries: readonly Entry[]): Generator<StockStep> {
  let book = EMPTY_BOOK;
  for (const entry of entries) {
    const step = stockAfter(book, entry);
    book = step.book;
    yield step;
  }
}
