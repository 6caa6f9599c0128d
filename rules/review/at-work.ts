import type { Span } from './piece.js';

/** Spans joined where they overlap, in order. */
const joined = (spans: readonly Span[]): readonly Span[] => {
  const all: Span[] = [];
  for (const span of spans.toSorted((a, b) => a.fromMs - b.fromMs)) {
    const last = all.at(-1);
    if (last !== undefined && span.fromMs <= last.toMs)
      all[all.length - 1] = { fromMs: last.fromMs, toMs: Math.max(last.toMs, span.toMs) };
    else all.push(span);
  }
  return all;
};

/**
 * Whether a piece lies in declared work, by its middle: pieces were cut where work begins and ends. To be asked for pieces
 * in order of time.
 */
export const buildIsAtWork = (work: readonly Span[]): ((piece: Span) => boolean) => {
  const spans = joined(work);
  let next = 0;
  return ({ fromMs, toMs }) => {
    const middle = (fromMs + toMs) / 2;
    while ((spans[next]?.toMs ?? Number.POSITIVE_INFINITY) <= middle) next += 1;
    return (spans[next]?.fromMs ?? Number.POSITIVE_INFINITY) <= middle;
  };
};
