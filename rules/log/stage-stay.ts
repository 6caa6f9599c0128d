import type { Lot } from './book.js';
import type { InhabitedStage } from './common.js';
import type { Entry } from './entry.js';
import { stockSteps } from './stock.js';

/** A batch in one tank and one stage, from when to when. */
export type StageStay = {
  readonly batchId: string;
  readonly placeId: string;
  readonly stage: InhabitedStage;
  readonly speciesGroup: Lot['speciesGroup'];
  /** When these animals came into the stage, in whichever tank: what ages are counted from. */
  readonly stageSinceMs: number;
  readonly fromMs: number;
  /** Undefined while they are there. */
  readonly toMs?: number;
};

const keyOf = ({ batchId, placeId, stage, stageSinceMs }: Lot): string =>
  `${batchId} ${placeId} ${stage} ${stageSinceMs}`;

/** Every stay of every batch, in the order in which they began. From the entries that count. */
export const stageStays = (entries: readonly Entry[]): readonly StageStay[] => {
  const ended: StageStay[] = [];
  let open = new Map<string, StageStay>();
  for (const { entry, book } of stockSteps(entries)) {
    const now = new Map(book.lots.map((lot) => [keyOf(lot), lot]));
    for (const [key, stay] of open) if (!now.has(key)) ended.push({ ...stay, toMs: entry.atMs });
    const before = open;
    open = new Map(
      [...now].map(([key, { batchId, placeId, stage, speciesGroup, stageSinceMs }]) => [
        key,
        before.get(key) ?? { batchId, placeId, stage, speciesGroup, stageSinceMs, fromMs: entry.atMs },
      ]),
    );
  }
  return [...ended, ...open.values()].filter(({ fromMs, toMs }) => toMs !== fromMs).toSorted(inTime);
};

const inTime = (a: StageStay, b: StageStay): number => a.fromMs - b.fromMs || a.batchId.localeCompare(b.batchId);

/** The stay in a tank that lies latest before a moment: the one whose stage is compared with. */
export const stayAt = (stays: readonly StageStay[], placeId: string, atMs: number): StageStay | undefined =>
  stays.findLast((stay) => stay.placeId === placeId && stay.fromMs <= atMs);

/** Stays of other batches in the same stage that began it earlier, the latest first; the same species where there are any. */
export const earlierStays = (stays: readonly StageStay[], of: StageStay): readonly StageStay[] => {
  const same = stays.filter(
    ({ batchId, stage, stageSinceMs }) =>
      stage === of.stage && batchId !== of.batchId && stageSinceMs < of.stageSinceMs,
  );
  const ownSpecies = same.filter(({ speciesGroup }) => speciesGroup === of.speciesGroup);
  return (ownSpecies.length > 0 ? ownSpecies : same).toReversed();
};
