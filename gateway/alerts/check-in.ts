import type { Clock } from '../clock.js';
import { accepted, later, type Outcome } from './way.js';

export type CheckIn = {
  /** Calls that failed one after the other. */
  failures(): number;
  /** Since when none was answered, once that is told: three in a row. */
  failingSinceMs(): number | undefined;
  stop(): void;
};

const EACH_MS = 60_000;
const LIMIT_MS = 10_000;
/** Common practice, no source: one lost call is the internet's way. */
const TOLD_AFTER = 3;

/** Calls an address outside each minute, for any service that notices when the calls stop. The address is asked each time. */
export const startCheckIn = (clock: Clock, url: () => string | undefined, limitMs = LIMIT_MS): CheckIn => {
  let failures = 0;
  let sinceMs: number | undefined;
  const call = async (): Promise<void> => {
    const address = url();
    const done = address === undefined ? accepted() : await callOnce(address, limitMs);
    failures = done.kind === 'accepted' ? 0 : failures + 1;
    sinceMs = failures === 0 ? undefined : (sinceMs ?? clock.now());
  };
  const stop = clock.every(EACH_MS, () => void call());
  return {
    failures: () => failures,
    failingSinceMs: () => (failures < TOLD_AFTER ? undefined : sinceMs),
    stop,
  };
};

/** One call, and what became of it. Redirects are followed: such services move. */
export const callOnce = async (address: string, limitMs = LIMIT_MS): Promise<Outcome> => {
  const signal = AbortSignal.timeout(limitMs);
  try {
    const answer = await fetch(address, { signal });
    await answer.body?.cancel();
    return answer.ok ? accepted(String(answer.status)) : later('refused', String(answer.status));
  } catch {
    return signal.aborted ? later('timed-out') : later('no-connection');
  }
};
