/** Tries at a passphrase or code, by the address they come from. */
export type Attempts = {
  /** Counts one try before it is looked at; the wait in ms when there were too many, else undefined. */
  take(address: string): number | undefined;
  /** The try was right. */
  forgive(address: string): void;
};

const MOST = 5;
const SPAN_MS = 60_000;
/** Addresses remembered: a bound on memory, far above what a hatchery has. */
const REMEMBERED = 10_000;

/** Five wrong tries a minute from one address; the next has to wait until the oldest of them is a minute old. */
export const buildAttempts = (now: () => number): Attempts => {
  const tries = new Map<string, readonly number[]>();
  const recent = (address: string, atMs: number): readonly number[] =>
    (tries.get(address) ?? []).filter((triedMs) => atMs - triedMs < SPAN_MS);
  const forgetOld = (atMs: number): void => {
    for (const address of tries.keys()) if (recent(address, atMs).length === 0) tries.delete(address);
    if (tries.size >= REMEMBERED) tries.clear();
  };
  return {
    take: (address) => {
      const atMs = now();
      if (tries.size >= REMEMBERED) forgetOld(atMs);
      const before = recent(address, atMs);
      const [oldest] = before;
      if (before.length >= MOST && oldest !== undefined) return oldest + SPAN_MS - atMs;
      tries.set(address, [...before, atMs]);
      return undefined;
    },
    forgive: (address) => {
      tries.delete(address);
    },
  };
};
