import { checkSpawningPlan } from '../husbandry/spawning-plan.js';
import type { Place } from '../place.js';
import { type Quantity, UNIT } from '../quantity.js';
import { type Book, type Lot, lotsIn, totalOf } from './book.js';
import type { CountFields } from './common.js';
import type { Inside } from './disinfect.js';
import { type Entry, isKind } from './entry.js';
import { type FieldFault, faulty } from './field.js';
import { tallyOf } from './tally.js';

/** What an entry is held against: the record as it was when the thing happened. */
export type Known = {
  readonly places: readonly Place[];
  readonly book: Book;
  readonly inside: ReadonlyMap<string, Inside>;
  /** Every batch that was ever named. */
  readonly batches: ReadonlySet<string>;
  /** Work and runs that were declared, with whether they have ended. */
  readonly open: ReadonlyMap<string, 'open' | 'ended'>;
  readonly recordedMs: number;
};

/** A phone's clock may be this far ahead. */
const AHEAD_MS = 5 * 60_000;

type Fault = readonly FieldFault[];
const none: Fault = [];
const one = (pointer: string, code: string, parameters?: FieldFault['with']): Fault => [
  faulty(pointer, code, parameters),
];

/** Every reason, with its place in the form, why an entry cannot be as it is written. Empty: it can be kept. */
export const checkEntry = (entry: Entry, known: Known): Fault => [
  ...(entry.atMs > known.recordedMs + AHEAD_MS ? one('/atMs', 'in-the-future') : none),
  ...(entry.placeId === undefined ? none : placeFault('/placeId', entry.placeId, known)),
  ...checkKind(entry, entry.placeId ?? '', known),
];

const checkKind = (entry: Entry, placeId: string, known: Known): Fault => {
  if (isKind(entry, 'brought-in', 'eggs-stocked')) return checkBeginning(entry, placeId, known);
  if (isKind(entry, 'count')) {
    return [...countFault('/fields/count', entry.fields.count), ...batchHere(entry.fields.batchId, placeId, known)];
  }
  if (isKind(entry, 'deaths', 'cull', 'sample', 'sale')) {
    const { batchId, animals } = entry.fields;
    return [
      ...batchHere(batchId, placeId, known),
      ...enoughHere('/fields/animals', animals, lotsMeant(known, placeId, batchId)),
    ];
  }
  if (isKind(entry, 'dump', 'stage')) return batchHere(undefined, placeId, known);
  if (isKind(entry, 'move', 'split', 'pool', 'drain-down')) return checkMoving(entry, placeId, known);
  if (isKind(entry, 'run-plan')) return checkPlan(entry);
  if (isKind(entry, 'run-eggs'))
    return [...countFault('/fields/count', entry.fields.count), ...checkWork(entry, known)];
  if (isKind(entry, 'round')) {
    return entry.fields.except.flatMap((seen, n) => placeFault(`/fields/except/${n}/placeId`, seen.placeId, known));
  }
  if (isKind(entry, 'hand-measurement')) return checkHand(entry.fields);
  if (isKind(entry, 'bed-look'))
    return checkLook(
      entry.fields,
      known.places.find(({ id }) => id === placeId),
    );
  return checkWork(entry, known);
};

/** What a thermometer or a meter can show of water. Beyond it, the wrong quantity or unit was chosen. */
const HAND: { readonly [quantity in Quantity]?: readonly [low: number, high: number] } = {
  temperature: [-5, 60],
  salinity: [0, 60],
  'oxygen-mg-l': [0, 60],
  'oxygen-saturation': [0, 500],
  ph: [0, 14],
};

const checkHand = ({ quantity, value }: Entry<'hand-measurement'>['fields']): Fault => {
  const [low, high] = HAND[quantity] ?? [-Infinity, Infinity];
  if (value >= low && value <= high) return none;
  return one('/fields/value', 'out-of-range', { value, low, high, unit: UNIT[quantity] });
};

const placeFault = (pointer: string, placeId: string, { places }: Known): Fault =>
  places.some(({ id }) => id === placeId) ? none : one(pointer, 'no-such-place', { place: placeId });

const countFault = (pointer: string, count: CountFields): Fault => {
  const tally = tallyOf(count);
  if (tally.ok) return none;
  const { fault } = tally;
  if (fault.code !== 'impossible') return one(pointer, 'count-not-understood');
  return one(pointer, fault.because, fault.with);
};

const lotsMeant = ({ book }: Known, placeId: string, batchId: string | undefined): readonly Lot[] =>
  lotsIn(book, placeId).filter((lot) => batchId === undefined || lot.batchId === batchId);

const batchHere = (batchId: string | undefined, placeId: string, known: Known): Fault => {
  if (lotsIn(known.book, placeId).length === 0) return one('/placeId', 'nothing-there', { place: placeId });
  if (batchId === undefined || lotsMeant(known, placeId, batchId).length > 0) return none;
  return one('/fields/batchId', 'batch-not-there', { batch: batchId });
};

/** A count is never exact: what its interval allows may be taken. */
const enoughHere = (pointer: string, animals: number, lots: readonly Lot[]): Fault => {
  const { high } = totalOf(lots);
  return lots.length === 0 || animals <= high ? none : one(pointer, 'more-than-there-are', { animals, high });
};

const stockable = (pointer: string, placeId: string, known: Known): Fault => {
  const place = known.places.find(({ id }) => id === placeId);
  if (place === undefined) return one(pointer, 'no-such-place', { place: placeId });
  if (place.kind !== 'tank' && place.kind !== 'bath') return one(pointer, 'no-tank', { place: place.name });
  const inside = known.inside.get(placeId);
  return inside === undefined
    ? none
    : one(pointer, 'disinfectant-inside', { place: place.name, product: inside.product });
};

const checkBeginning = (entry: Entry<'brought-in' | 'eggs-stocked'>, placeId: string, known: Known): Fault => [
  ...stockable('/placeId', placeId, known),
  ...countFault('/fields/count', entry.fields.count),
  ...(known.batches.has(entry.fields.batchId) && !isSameBatch(entry, known)
    ? one('/fields/batchId', 'batch-exists', { batch: entry.fields.batchId })
    : none),
];

/** Eggs of one run in several tanks are one batch; what is brought in is a batch of its own each time. */
const isSameBatch = (entry: Entry<'brought-in' | 'eggs-stocked'>, { book }: Known): boolean =>
  entry.kind === 'eggs-stocked' &&
  book.lots.some(({ batchId, stage }) => batchId === entry.fields.batchId && stage === 'embryo');

type Moving = Entry<'move' | 'split' | 'pool' | 'drain-down'>;

const checkMoving = (entry: Moving, placeId: string, known: Known): Fault => {
  const empty = batchHere(undefined, placeId, known);
  if (empty.length > 0) return empty;
  if (isKind(entry, 'move')) {
    const { to, animals } = entry.fields;
    const lots = lotsIn(known.book, placeId);
    return [
      ...goal('/fields/to', to, placeId, known, false),
      ...(animals === undefined ? none : enoughHere('/fields/animals', animals, lots)),
    ];
  }
  if (isKind(entry, 'pool'))
    return goal('/fields/to', entry.fields.to, placeId, known, entry.fields.batchId !== undefined);
  if (isKind(entry, 'split')) return checkParts(entry.fields.to, placeId, known, true);
  return checkSheet(entry.fields, placeId, known);
};

/** A tank to go to: there, another one, without disinfectant, and without a batch that would be mixed unnoticed. */
const goal = (pointer: string, to: string, from: string, known: Known, isMixed: boolean): Fault => {
  if (to === from) return one(pointer, 'same-place');
  const mine = new Set(lotsIn(known.book, from).map(({ batchId }) => batchId));
  const strange = lotsIn(known.book, to).find(({ batchId }) => !mine.has(batchId));
  return [
    ...stockable(pointer, to, known),
    ...(strange === undefined || isMixed ? none : one(pointer, 'other-batch-there', { batch: strange.batchId })),
  ];
};

type Parts = readonly { readonly placeId: string; readonly animals: number }[];

const checkParts = (parts: Parts, placeId: string, known: Known, mustFit: boolean): Fault => {
  const lots = lotsIn(known.book, placeId);
  const total = parts.reduce((sum, { animals }) => sum + animals, 0);
  const twice = parts.findIndex((part, n) => parts.findIndex((other) => other.placeId === part.placeId) < n);
  return [
    ...parts.flatMap((part, n) =>
      part.placeId === placeId ? none : goal(`/fields/to/${n}/placeId`, part.placeId, placeId, known, false),
    ),
    ...(twice < 0 ? none : one(`/fields/to/${twice}/placeId`, 'named-twice')),
    ...(mustFit ? enoughHere('/fields/to', total, lots) : none),
  ];
};

const checkSheet = (fields: Entry<'drain-down'>['fields'], placeId: string, known: Known): Fault => {
  const { count, dead = 0, culled = 0 } = fields;
  const taken = enoughHere('/fields/culled', dead + culled, lotsIn(known.book, placeId));
  const counted = count === undefined ? none : countFault('/fields/count', count);
  return [...taken, ...counted, ...checkEnd(fields, placeId, known)];
};

const checkEnd = (fields: Entry<'drain-down'>['fields'], placeId: string, known: Known): Fault => {
  const { end, placeId: to, batchId } = fields;
  switch (end) {
    case 'back-in':
      return stockable('/placeId', placeId, known);
    case 'dumped':
      return fields.why === undefined ? one('/fields/why', 'missing') : none;
    case 'split':
      return fields.to === undefined ? one('/fields/to', 'missing') : checkParts(fields.to, placeId, known, false);
    case 'to':
    case 'pooled':
      if (to === undefined) return one('/fields/placeId', 'missing');
      return goal('/fields/placeId', to, placeId, known, end === 'pooled' && batchId !== undefined);
  }
};

const checkPlan = ({ atMs, fields }: Entry<'run-plan'>): Fault => {
  const late = fields.latestEndMs <= atMs ? one('/fields/latestEndMs', 'ends-before-it-begins') : none;
  const checked = checkSpawningPlan(fields);
  if (checked.ok) return late;
  const { fault } = checked;
  if (fault.code !== 'impossible') return [...late, ...one(`/fields/${fault.what}`, fault.code)];
  const pointer = fault.because.startsWith('argument') ? '/fields/argument' : '/fields/riseC';
  return [...late, ...one(pointer, fault.because, fault.with)];
};

const checkWork = (entry: Entry, { open }: Known): Fault => {
  const pointed = isKind(entry, 'work-longer', 'work-end')
    ? (['/fields/workId', entry.fields.workId] as const)
    : isKind(entry, 'run-phase', 'run-spawner', 'run-eggs', 'run-end')
      ? (['/fields/runId', entry.fields.runId] as const)
      : undefined;
  if (pointed === undefined) return none;
  const state = open.get(pointed[1]);
  if (state === undefined) return one(pointed[0], 'never-declared');
  // Who spawned, and their eggs, are often written down when the tray is empty again.
  const isAfterwards = entry.kind === 'run-spawner' || entry.kind === 'run-eggs';
  return state === 'ended' && !isAfterwards ? one(pointed[0], 'ended-already') : none;
};

const checkLook = (
  { layerMm, seenIn, sand, smell, siphons }: Entry<'bed-look'>['fields'],
  place: Place | undefined,
): Fault => {
  if (place?.bed === undefined) return one('/placeId', 'no-bed', { place: place?.name ?? '' });
  if ([layerMm, sand, smell, siphons].every((seen) => seen === undefined))
    return one('/fields/layerMm', 'nothing-seen');
  if (layerMm !== undefined && seenIn === undefined) return one('/fields/seenIn', 'seen-in-what');
  const bedMm = Math.round(1000 * place.bed.depthM);
  return layerMm !== undefined && layerMm >= bedMm ? one('/fields/layerMm', 'bed-clear-throughout', { bedMm }) : none;
};
