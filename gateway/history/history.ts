import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { ChannelReadings, Trails } from '../../rules/wire/api.js';

import type { ReviewAsked } from './review.js';

/** One reading of a channel as it is exported: what was sent, and what it means by today's corrections. */
export type HistoryRow = {
  readonly atMs: number;
  readonly arrivalMs: number;
  /** Absent for a computed channel: nothing was sent. */
  readonly sent?: {
    readonly sourceId: number;
    readonly variant: number;
    readonly raw: number;
    readonly unit: string;
    readonly flags: number;
    /** The board's own stamp where it was not accepted. */
    readonly refusedMs?: number;
  };
  /** Canonical unit, corrected; of a reading that is not usable too. Absent where it cannot be computed. */
  readonly value?: number;
  readonly usable: boolean;
};

/**
 * What was read, by channel. Raw values are corrected on reading, with the mapping and calibration that ruled at the
 * device time. Spans include their start and not their end. Every implementation passes tests/contracts/history.ts.
 */
export type History = {
  /** At most `points` (1 and more) buckets or readings; a channel id that is none is a bug of the caller. */
  readings(channelId: string, fromMs: number, toMs: number, points: number): Promise<ChannelReadings>;
  /** Means of steps of `stepMs` from `fromMs` on. */
  trails(channelIds: readonly string[], fromMs: number, toMs: number, stepMs: number): Promise<Trails>;
  /** Every reading in order of device time, some thousands at once. */
  rows(channelId: string, fromMs: number, toMs: number): AsyncIterable<readonly HistoryRow[]>;
  /** One channel reviewed where its readings are: a fortnight of them never crosses over to the gateway. */
  review(asked: ReviewAsked): Promise<ReviewedChannel>;
  close(): Promise<void>;
};
