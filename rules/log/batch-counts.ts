import type { Account, Movement } from './book.js';
import { isKind } from './entry.js';
import type { StockMove } from './stock.js';

/**
 * What the counts of one batch say in a span, in one line: larvae are counted each day, and no two counts are the same.
 * Numbers of animals; `fewer` and `more` are what counts found against the book.
 */
export type BatchCounts = {
  readonly batchId: string;
  readonly counts: number;
  readonly fewer: number;
  readonly more: number;
  /** Found dead, and culled, when the tank was drained down. */
  readonly sheetDead: number;
  readonly sheetCulled: number;
};

type Span = { readonly fromMs: number; readonly toMs: number };

/** Of one batch; undefined when it was not counted and every animal was where the book had it. */
export const batchCounts = (
  batchId: string,
  moves: readonly StockMove[],
  { fromMs, toMs }: Span,
): BatchCounts | undefined => {
  const own = moves.filter(
    ({ entry, movements }) =>
      entry.atMs >= fromMs && entry.atMs < toMs && movements.some((movement) => movement.batchId === batchId),
  );
  const all = movementsOf(own, batchId);
  const atSheets = movementsOf(
    own.filter(({ entry }) => isKind(entry, 'drain-down')),
    batchId,
  );
  const counts = own.filter(
    ({ entry }) => isKind(entry, 'count') || (isKind(entry, 'drain-down') && entry.fields.count !== undefined),
  ).length;
  const fewer = animalsTo('unaccounted', all);
  const more = total(all.filter(({ from }) => isAccount(from, 'unaccounted')));
  if (counts === 0 && fewer === 0 && more === 0) return undefined;
  const sheetDead = animalsTo('died', atSheets);
  return { batchId, counts, fewer, more, sheetDead, sheetCulled: animalsTo('culled', atSheets) };
};

const movementsOf = (steps: readonly StockMove[], batchId: string): readonly Movement[] =>
  steps.flatMap(({ movements }) => movements.filter((movement) => movement.batchId === batchId));
const isAccount = (side: Movement['from'], account: Account): boolean => 'account' in side && side.account === account;
const total = (movements: readonly Movement[]): number => movements.reduce((sum, { animals }) => sum + animals, 0);
const animalsTo = (account: Account, movements: readonly Movement[]): number =>
  total(movements.filter(({ to }) => isAccount(to, account)));
