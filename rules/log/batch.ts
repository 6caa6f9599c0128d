import type { Origin } from '../stage/profile.js';
import { profileFor, type SpeciesGroupId } from '../stage/profiles.js';
import type { Account, Book, Lot, Movement } from './book.js';
import type { InhabitedStage } from './common.js';
import { type Entry, isKind } from './entry.js';
import type { StockMove } from './stock.js';

const DAY_MS = 86_400_000;

/** A batch in a tank, from when to when. */
export type Stay = { readonly placeId: string; readonly fromMs: number; readonly toMs?: number };

/** Everything that the log says of one batch. */
export type BatchStory = {
  readonly id: string;
  readonly speciesGroup: SpeciesGroupId;
  /** When it was spawned, or came. */
  readonly beganMs: number;
  /** Undefined for one that was mixed together here. */
  readonly origin?: string;
  readonly permits: readonly string[];
  readonly parents: readonly string[];
  /** What it was mixed into. */
  readonly became: readonly string[];
  readonly stays: readonly Stay[];
  readonly movements: readonly Movement[];
  readonly lots: readonly Lot[];
  readonly accounts: { readonly [account in Account]?: number };
};

const placeOf = (side: Movement['from']): string | undefined => ('placeId' in side ? side.placeId : undefined);

/** The story of one batch; undefined when no entry ever put it into a tank. */
export const batchStory = (
  id: string,
  { moves, book }: { readonly moves: readonly StockMove[]; readonly book: Book },
): BatchStory | undefined => {
  const own = moves.filter(({ movements }) => movements.some(({ batchId }) => batchId === id));
  const [first] = own;
  const speciesGroup = groupOf(id, moves);
  if (first === undefined || speciesGroup === undefined) return undefined;
  const beginnings = own.map(({ entry }) => entry).filter((entry) => isBeginning(entry, id));
  const origin = beginnings.flatMap((entry) => (entry.kind === 'brought-in' ? [entry.fields.origin] : [])).at(0);
  return {
    id,
    speciesGroup,
    beganMs: first.entry.atMs,
    ...(origin === undefined ? {} : { origin }),
    permits: own.flatMap(({ entry }) => permitsIn(entry, id)),
    parents: [...new Set([...beginnings.flatMap(parentsIn), ...mixedWith(own, id, 'from')])],
    became: mixedWith(own, id, 'to'),
    stays: staysOf(own, id),
    movements: own.flatMap(({ movements }) => movements.filter(({ batchId }) => batchId === id)),
    lots: book.lots.filter(({ batchId }) => batchId === id),
    accounts: book.accounts.get(id) ?? {},
  };
};

type Beginning = Extract<Entry, { readonly kind: 'brought-in' | 'eggs-stocked' }>;
const isBeginning = (entry: Entry, id: string): entry is Beginning =>
  isKind(entry, 'brought-in', 'eggs-stocked') && entry.fields.batchId === id;
const parentsIn = (entry: Beginning): readonly string[] =>
  entry.kind === 'eggs-stocked' ? (entry.fields.parents ?? []) : [];

const permitsIn = (entry: Entry, id: string): readonly string[] => {
  if (!isKind(entry, 'brought-in', 'sale')) return [];
  if (entry.kind === 'brought-in' && entry.fields.batchId !== id) return [];
  return [entry.fields.permit, entry.fields.certificate].filter((paper) => paper !== undefined);
};

/** The batches on the other side of a mixing: those that went in, or what came of it. */
const mixedWith = (steps: readonly StockMove[], id: string, side: 'from' | 'to'): readonly string[] => {
  const names = steps.flatMap(({ movements }) => {
    const mixed = movements.filter(({ from, to }) => isMixed(from) || isMixed(to));
    const mine = mixed.filter(({ batchId }) => batchId === id);
    const isOnThisSide = mine.some(({ from, to }) => isMixed(side === 'from' ? from : to));
    return isOnThisSide ? mixed.filter(({ batchId }) => batchId !== id).map(({ batchId }) => batchId) : [];
  });
  return [...new Set(names)];
};
const isMixed = (side: Movement['from']): boolean => 'account' in side && side.account === 'mixed';

/** In a tank while the movements leave at least one animal in it. */
const staysOf = (moves: readonly StockMove[], id: string): readonly Stay[] => {
  const stays: { placeId: string; fromMs: number; toMs?: number }[] = [];
  const here = new Map<string, number>();
  for (const { entry, movements } of moves) {
    for (const { batchId, from, to, animals } of movements) {
      if (batchId !== id) continue;
      const [left, came] = [placeOf(from), placeOf(to)];
      if (left !== undefined) here.set(left, (here.get(left) ?? 0) - animals);
      if (came !== undefined) here.set(came, (here.get(came) ?? 0) + animals);
    }
    for (const stay of stays) {
      if (stay.toMs === undefined && (here.get(stay.placeId) ?? 0) <= 0) stay.toMs = entry.atMs;
    }
    for (const [placeId, animals] of here) {
      const isOpen = stays.some((stay) => stay.placeId === placeId && stay.toMs === undefined);
      if (animals > 0 && !isOpen) stays.push({ placeId, fromMs: entry.atMs });
    }
  }
  return stays;
};

/** As its first entry says; a mixed batch is of the group of those it was mixed from. */
const groupOf = (
  id: string,
  moves: readonly StockMove[],
  asked: readonly string[] = [],
): SpeciesGroupId | undefined => {
  for (const { entry } of moves) if (isBeginning(entry, id)) return entry.fields.speciesGroup;
  return mixedWith(moves, id, 'from')
    .filter((parent) => !asked.includes(parent))
    .map((parent) => groupOf(parent, moves, [...asked, id]))
    .find((group) => group !== undefined);
};

/** Every place that the batch ever touched. */
export const tracedPlaces = ({ movements }: BatchStory): readonly string[] => [
  ...new Set(movements.flatMap(({ from, to }) => [placeOf(from), placeOf(to)]).filter((id) => id !== undefined)),
];

/** Whole days since it began: the day of spawning is day 0. */
export const ageDays = (beganMs: number, nowMs: number): number => Math.max(0, Math.floor((nowMs - beganMs) / DAY_MS));

const NEXT: { readonly [stage in InhabitedStage]?: InhabitedStage } = {
  quarantine: 'conditioning',
  'cold-hold': 'conditioning',
  conditioning: 'ripe',
  ripe: 'spawning',
  embryo: 'larva',
  larva: 'setting',
  setting: 'post-set',
  'post-set': 'nursery',
};

export type NextStage = {
  readonly stage: InhabitedStage;
  readonly fromMs?: number;
  readonly toMs?: number;
  readonly standing: Origin['standing'];
};

/** The stage that should come, and between when and when, by the duration in the profile. Advice: only a person moves it on. */
export const nextStage = ({ speciesGroup, stage, stageSinceMs }: Lot): NextStage | undefined => {
  const next = NEXT[stage];
  const duration = profileFor(speciesGroup, stage)?.durationD;
  if (next === undefined || duration === undefined) return undefined;
  const { low, high, standing } = duration;
  return {
    stage: next,
    ...(low === undefined ? {} : { fromMs: stageSinceMs + low * DAY_MS }),
    ...(high === undefined ? {} : { toMs: stageSinceMs + high * DAY_MS }),
    standing,
  };
};
