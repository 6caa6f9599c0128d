import type { ChangedChannel, LaterEdit } from '../review/later.js';
import type { Review, ReviewStart } from '../review/review.js';

/** POST /api/v1/reviews: from a deaths entry, or by hand. */
export type NewReview = {
  readonly start: ReviewStart;
  /** The entry that told of the deaths; its tank is affected. */
  readonly entryId?: string;
  /** Tanks with deaths. */
  readonly tanks: readonly string[];
  /** When dead animals were certainly there; needed where no entry says so. */
  readonly deadMs?: number;
  /** When they were certainly alive, over what the entries say. */
  readonly aliveMs?: number;
  readonly remark?: string;
  /** An earlier review of the same deaths that this one is frozen after. */
  readonly editionOf?: string;
};

/** GET /api/v1/reviews: one line each. */
export type ReviewLine = Pick<Review, 'id' | 'start' | 'frozenMs' | 'by' | 'onset'> & {
  readonly tanks: readonly string[];
};

/** GET /api/v1/reviews/{id}/since: what people wrote or set about a review's tanks and time since it was frozen. */
export type SinceFrozen = {
  /** Of the frozen review as the journal keeps it, and as GET /api/v1/reviews/{id}/record sends it. */
  readonly sha256: string;
  readonly later: readonly LaterEdit[];
  /** Ids of the editions that were frozen after it, oldest first. */
  readonly newer: readonly string[];
};

/** GET /api/v1/reviews/{id}: both in one. */
export type FrozenReview = SinceFrozen & { readonly review: Review };

/** GET /api/v1/reviews/{id}/differences: computed anew from the record as it is now. */
export type ReviewDifferences = {
  readonly lookedMs: number;
  readonly channels: readonly (ChangedChannel & {
    /** Readings of the span that arrived after the freezing, and when the last of them did. */
    readonly lateReadings: number;
    readonly lastArrivalMs?: number;
  })[];
};
