import type { HistoryTrouble } from '../../rules/words/history.js';
import type { Confirmed } from '../journal/due.js';
import type { DueBatch } from './due-batch.js';
import type { Sent } from './send.js';

/** How the spool goes about its work; real paces are in spool.ts. */
export type Pace = {
  /** Readings a request. */
  readonly atMost: number;
  /** A request that has no answer by then has failed. */
  readonly limitMs: number;
  /** When nothing was due. */
  readonly restMs: number;
  /** After the first failure; doubled with each further one, up to the longest. */
  readonly firstWaitMs: number;
  readonly longestWaitMs: number;
};

export type RoundParts = {
  readonly pace: Pace;
  readonly next: () => DueBatch | undefined;
  readonly send: (batch: DueBatch) => Promise<Sent>;
  /** Returns when the journal has kept it: only then is more read. */
  readonly settle: (confirmed: Confirmed) => Promise<void>;
  /** After each attempt: why it failed, or undefined when it did not. */
  readonly report: (trouble: HistoryTrouble | undefined) => void;
  readonly pause: (ms: number) => Promise<void>;
  /** From 0 to 1. */
  readonly random: () => number;
};

/** A database that asks for longer is asked again all the same after an hour. */
const LONGEST_ASKED_MS = 3_600_000;

/** Sends what is due, and what then is due, for ever. */
export const keepSending = async (parts: RoundParts): Promise<never> => {
  let failures = 0;
  for (;;) {
    const batch = parts.next();
    if (batch === undefined) {
      await parts.pause(parts.pace.restMs);
      continue;
    }
    const { refused, later } = await parts.send(batch);
    if (later === undefined) {
      failures = 0;
      await parts.settle({ ...batch.settles, refused });
      parts.report(undefined);
    } else {
      failures += 1;
      parts.report(later.trouble);
      await parts.pause(waitMs(parts, failures, later.waitMs));
    }
  }
};

/** Half of it by chance, so that many sites do not come back to one database at the same moment. Never sooner than asked. */
const waitMs = (
  { pace: { firstWaitMs, longestWaitMs }, random }: RoundParts,
  failures: number,
  askedMs = 0,
): number => {
  const full = Math.min(longestWaitMs, firstWaitMs * 2 ** Math.min(failures - 1, 30));
  const own = full / 2 + (random() * full) / 2;
  return askedMs > 0 ? Math.max(Math.min(askedMs, LONGEST_ASKED_MS) + (random() * firstWaitMs) / 2, own) : own;
};
