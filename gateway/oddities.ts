import type { Oddity } from './intake/decoded.js';

const ONCE_AN_MS = 3_600_000;
const REMEMBERED = 5_000;

/**
 * Keeps a board that is odd in every message from filling the list: each oddity of a topic is kept once an hour. What
 * was taken from the message is not touched by this.
 */
export const quietOddities = (): ((topic: string, oddity: Oddity, atMs: number) => boolean) => {
  const toldMs = new Map<string, number>();
  return (topic, { code }, atMs) => {
    const key = `${code} ${topic}`;
    const lastMs = toldMs.get(key);
    if (lastMs !== undefined && atMs - lastMs < ONCE_AN_MS) return false;
    if (toldMs.size >= REMEMBERED) toldMs.clear();
    toldMs.set(key, atMs);
    return true;
  };
};
