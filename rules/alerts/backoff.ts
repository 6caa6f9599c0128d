/** [full jitter] delay = u × min(60 s, 2 s × 2^attempt), u uniform in [0, 1). Common practice, no source. */
const FIRST_MS = 2_000;
const LONGEST_MS = 60_000;

/**
 * How long to wait before trying again. `attempt` counts from 0; `uniform` is drawn by the caller.
 * `retryAfterMs` is what the other end asked for: a lower bound (RFC 9110 section 10.2.3).
 */
export const backoffMs = (attempt: number, uniform: number, retryAfterMs = 0): number =>
  Math.max(retryAfterMs, uniform * Math.min(LONGEST_MS, FIRST_MS * 2 ** attempt));

/** Seconds, or an HTTP date; undefined when it is neither. */
export const parseRetryAfterMs = (text: string, nowMs: number): number | undefined => {
  const value = text.trim();
  if (/^\d{1,9}$/.test(value)) return Number(value) * 1_000;
  const atMs = Date.parse(value);
  return Number.isNaN(atMs) ? undefined : Math.max(0, atMs - nowMs);
};
