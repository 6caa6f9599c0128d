import type { Gap, GapReason } from '../../rules/wire/api.js';
import type { TimeSpan } from '../journal/gateway-runs.js';

/** What is known about silence apart from the readings: of overlapping reasons the first in the list is given. */
export type Reasons = readonly { readonly reason: GapReason; readonly spans: readonly TimeSpan[] }[];

/**
 * A silence cut where its reason changes. Nothing known: the board was silent. Parts no longer than `shortestMs` would
 * not be gaps by themselves and go to their longer neighbour.
 */
export const reasonedParts = (silence: TimeSpan, reasons: Reasons, shortestMs: number): readonly Gap[] => {
  const { fromMs, toMs } = silence;
  const inside = reasons
    .flatMap(({ spans }) => spans.flatMap((span) => [span.fromMs, span.toMs]))
    .filter((edge) => edge > fromMs && edge < toMs);
  const edges = [...new Set([fromMs, ...inside, toMs])].sort((a, b) => a - b);
  const parts = edges.slice(1).map((end, index) => {
    const start = edges[index] ?? fromMs;
    return { fromMs: start, toMs: end, reason: reasonAt(start, reasons) };
  });
  return withoutSlivers(joined(parts), shortestMs);
};

const reasonAt = (atMs: number, reasons: Reasons): GapReason =>
  reasons.find(({ spans }) => spans.some(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs))?.reason ??
  'board-silent';

const joined = (parts: readonly Gap[]): readonly Gap[] => {
  const done: Gap[] = [];
  for (const part of parts) {
    const before = done.at(-1);
    if (before?.reason === part.reason && before.toMs === part.fromMs)
      done.splice(-1, 1, { ...before, toMs: part.toMs });
    else done.push(part);
  }
  return done;
};

const withoutSlivers = (parts: readonly Gap[], shortestMs: number): readonly Gap[] => {
  const length = (part: Gap | undefined): number => (part === undefined ? 0 : part.toMs - part.fromMs);
  const index = parts.findIndex((part) => length(part) <= shortestMs);
  if (index < 0 || parts.length === 1) return parts;
  const [before, sliver, after] = [parts[index - 1], parts[index], parts[index + 1]];
  if (sliver === undefined) return parts;
  const heir = length(before) >= length(after) ? before : after;
  const bare = parts.map((part, at) => (at === index && heir !== undefined ? { ...part, reason: heir.reason } : part));
  return withoutSlivers(joined(bare), shortestMs);
};
