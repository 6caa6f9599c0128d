import type { Clock } from '../clock.js';

export type CheckIn = {
  /** Calls that failed one after the other; three are told as a fault of the site's own line. */
  failures(): number;
  stop(): void;
};

const EACH_MS = 60_000;
const LIMIT_MS = 10_000;

/** Calls an address outside each minute, for any service that notices when the calls stop. The address is asked each time. */
export const startCheckIn = (clock: Clock, url: () => string | undefined, limitMs = LIMIT_MS): CheckIn => {
  let failures = 0;
  const call = async (): Promise<void> => {
    const address = url();
    if (address === undefined) return;
    try {
      const answer = await fetch(address, { signal: AbortSignal.timeout(limitMs) });
      await answer.body?.cancel();
      failures = answer.ok ? 0 : failures + 1;
    } catch {
      failures += 1;
    }
  };
  const stop = clock.every(EACH_MS, () => void call());
  return { failures: () => failures, stop };
};
