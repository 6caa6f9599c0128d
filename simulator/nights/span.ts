/** From one moment to another, the end excluded. */
export type Span = { readonly fromMs: number; readonly toMs: number };

export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;

export const within = ({ fromMs, toMs }: Span, atMs: number): boolean => fromMs <= atMs && atMs < toMs;

/** The judged part of a night: the crew has left or is about to, and the morning round ends it. */
export type Hours = {
  /** The water has run quietly since. */
  readonly settleMs: number;
  /** The watch sees readings since, sparse ones at first. */
  readonly preludeMs: number;
  readonly startMs: number;
  readonly endMs: number;
};

/** Ten hours from eight in the evening, local time and UTC being the same here. */
export const hoursOf = (startMs: number): Hours => ({
  settleMs: startMs - 10 * HOUR_MS,
  preludeMs: startMs - 4 * HOUR_MS,
  startMs,
  endMs: startMs + 10 * HOUR_MS,
});
