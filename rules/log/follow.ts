import type { HeldLines, Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import { heldLines, tighter } from '../stage/hold.js';
import { BAND_QUANTITIES } from '../stage/profiles.js';
import { wantsFor } from '../stage/wants.js';
import { type Book, type Lot, lotsIn } from './book.js';

/** What is in a place, as its settings say it. */
type Inside = Pick<Place, 'stage' | 'stageSinceMs' | 'speciesGroup' | 'batch'>;

const most = (lots: readonly Lot[]): Lot | undefined =>
  lots.reduce<Lot | undefined>(
    (best, lot) => (best === undefined || lot.animals > best.animals ? lot : best),
    undefined,
  );

/** Undefined when nothing is there. Several batches in one water are watched as the largest of them. */
const insideOf = (book: Book, placeId: string): Inside | undefined => {
  const lots = lotsIn(book, placeId);
  const main = most(lots);
  if (main === undefined) return undefined;
  const { stage, stageSinceMs, speciesGroup } = main;
  const names = [...new Set(lots.map(({ batchId }) => batchId))].sort();
  return { stage, stageSinceMs, speciesGroup, batch: names.join(' + ').slice(0, 60) };
};

const sameInside = (a: Inside | undefined, b: Inside | undefined): boolean =>
  a?.stage === b?.stage && a?.speciesGroup === b?.speciesGroup && a?.batch === b?.batch;

/**
 * The places whose animals are others now, or in another stage, with the settings that follow: stage, batch, group, and
 * with them targets and limits. Wider lines are held unless `accept` says that a person took them.
 */
export const placesAfter = (
  places: readonly Place[],
  before: Book,
  after: Book,
  { atMs, accept = false }: { readonly atMs: number; readonly accept?: boolean },
): readonly Place[] =>
  places.flatMap((place) => {
    const [was, is] = [insideOf(before, place.id), insideOf(after, place.id)];
    if (sameInside(was, is)) return [];
    if (is === undefined) return [emptied(place, atMs)];
    const { held: _, ...rest } = place;
    const settled: Place = { ...unconfirmed(rest, place.stage !== is.stage), ...is };
    const held = accept ? undefined : holding(places, before, settled, after);
    return [held === undefined ? settled : { ...settled, held }];
  });

const emptied = ({ batch: _batch, held: _held, speciesGroup: _group, ...place }: Place, atMs: number): Place => ({
  ...place,
  stage: 'empty',
  stageSinceMs: atMs,
});

/** "Confirmed" was said of the stage before. */
const unconfirmed = (place: Place, isOtherStage: boolean): Place => {
  if (!isOtherStage || place.wants === undefined) return place;
  const wants = Object.fromEntries(
    Object.entries(place.wants).map(([quantity, { confirmed: _, ...own }]) => [quantity, own]),
  );
  return { ...place, wants };
};

/** Where the animals now in a place were before: there, or in the places that the same batches have left or shared. */
const cameFrom = (places: readonly Place[], before: Book, to: Place, after: Book): readonly Place[] => {
  const batches = new Set(lotsIn(after, to.id).map(({ batchId }) => batchId));
  const wereIn = new Set(
    before.lots.filter((lot) => batches.has(lot.batchId) || lot.placeId === to.id).map(({ placeId }) => placeId),
  );
  return places.filter(({ id }) => wereIn.has(id));
};

const holding = (places: readonly Place[], before: Book, settled: Place, after: Book): Place['held'] => {
  const origins = cameFrom(places, before, settled, after);
  const held: { [quantity in Quantity]?: HeldLines } = {};
  for (const quantity of BAND_QUANTITIES) {
    const earlier = origins.map((place) => wantsFor(place, quantity)).filter((wants) => wants !== undefined);
    const [first, ...others] = earlier;
    if (first === undefined) continue;
    const tightest = others.reduce<HeldLines>((lines, wants) => tighter(lines, wants), first);
    const lines = heldLines(tightest, wantsFor(settled, quantity));
    if (lines !== undefined) held[quantity] = lines;
  }
  return Object.keys(held).length === 0 ? undefined : held;
};
