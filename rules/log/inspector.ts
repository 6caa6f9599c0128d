import { type BatchStory, batchStory } from './batch.js';
import { type BatchCounts, batchCounts } from './batch-counts.js';
import { type Entry, isKind } from './entry.js';
import type { Stock } from './stock.js';

/** The papers of a span of time: what an inspector asks for, in the order in which it is asked. */
export type Papers = {
  readonly fromMs: number;
  readonly toMs: number;
  /** Every batch that was on site in the span, with origin and permits. */
  readonly batches: readonly BatchStory[];
  readonly broughtIn: readonly Entry<'brought-in'>[];
  readonly sold: readonly Entry<'sale'>[];
  /** From tank to tank. */
  readonly moved: readonly Entry<'move' | 'split' | 'pool' | 'drain-down'>[];
  readonly deaths: readonly Entry<'deaths'>[];
  readonly culls: readonly Entry<'cull' | 'dump' | 'drain-down'>[];
  /** One line a batch; the single counts are in the export. */
  readonly counted: readonly BatchCounts[];
  readonly treatments: readonly Entry<'treatment' | 'disinfection' | 'residual-test'>[];
  readonly calibrations: readonly Entry<'calibration'>[];
  /** Each is in the export. */
  readonly handMeasurements: number;
  readonly samples: readonly Entry<'sample'>[];
  /** What the papers lack: animals that came or went without a permit. */
  readonly lacking: readonly Lack[];
};
export type Lack = { readonly code: 'no-permit-in' | 'no-permit-out'; readonly entryId: string };

/** From the ruling entries and their stock; the end of the span is not included. */
export const papersFor = (
  entries: readonly Entry[],
  stock: Stock,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): Papers => {
  const within = entries.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
  const batches = batchesOnSite(stock, fromMs, toMs);
  const broughtIn = within.filter((entry) => isKind(entry, 'brought-in'));
  const sold = within.filter((entry) => isKind(entry, 'sale'));
  return {
    fromMs,
    toMs,
    batches,
    broughtIn,
    sold,
    moved: within.filter((entry) => isKind(entry, 'move', 'split', 'pool') || isMovingSheet(entry)),
    deaths: within.filter((entry) => isKind(entry, 'deaths')),
    culls: within.filter((entry) => isKind(entry, 'cull', 'dump') || isDumpingSheet(entry)),
    counted: batches
      .map(({ id }) => batchCounts(id, stock.moves, { fromMs, toMs }))
      .filter((counts) => counts !== undefined),
    treatments: within.filter((entry) => isKind(entry, 'treatment', 'disinfection', 'residual-test')),
    calibrations: within.filter((entry) => isKind(entry, 'calibration')),
    handMeasurements: within.filter((entry) => isKind(entry, 'hand-measurement')).length,
    samples: within.filter((entry) => isKind(entry, 'sample')),
    lacking: [
      ...broughtIn.flatMap(({ id, fields }) => lack('no-permit-in', id, fields.permit)),
      ...sold.flatMap(({ id, fields }) => lack('no-permit-out', id, fields.permit)),
    ],
  };
};

const isMovingSheet = (entry: Entry): entry is Entry<'drain-down'> =>
  isKind(entry, 'drain-down') && entry.fields.end !== 'back-in' && entry.fields.end !== 'dumped';
const isDumpingSheet = (entry: Entry): entry is Entry<'drain-down'> =>
  isKind(entry, 'drain-down') && entry.fields.end === 'dumped';

const lack = (code: 'no-permit-in' | 'no-permit-out', entryId: string, permit: string | undefined): readonly Lack[] =>
  permit === undefined ? [{ code, entryId }] : [];

const batchesOnSite = (stock: Stock, fromMs: number, toMs: number): readonly BatchStory[] =>
  batchNames(stock)
    .map((id) => batchStory(id, stock))
    .filter((story) => story !== undefined)
    .filter(({ stays }) => stays.some((stay) => stay.fromMs < toMs && (stay.toMs ?? toMs) >= fromMs));

/** Every batch that was ever moved, in the order of its first movement. */
export const batchNames = ({ moves }: Stock): readonly string[] => [
  ...new Set(moves.flatMap(({ movements }) => movements.map(({ batchId }) => batchId))),
];
