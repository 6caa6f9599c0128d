import type { Gap, GapReason } from '../../rules/wire/api.js';

/** A gap on paper: hatched from x to x, its reason in words where they fit. */
export type GapOnPaper = {
  readonly from: number;
  readonly to: number;
  readonly label: string | undefined;
  /** Where the middle of the label stands. */
  readonly at: number;
};

type Paper = {
  readonly xOf: (atMs: number) => number;
  readonly left: number;
  readonly right: number;
  /** Room at the left that is written on already. */
  readonly reserved: number;
  /** Words of a gap and their width. */
  readonly say: (reason: GapReason, lengthMs: number) => string;
  readonly widthOf: (text: string) => number;
};

/** A label may move right by this many of its own halves to find room. */
const REACH = 2.5;
/** A gap is never thinner than this: a missing minute in a day must still be seen. */
const THINNEST_PX = 3;

/**
 * The gaps to hatch, clipped to the paper. Neighbours of one reason that touch on paper are one; a label is written
 * where it does not run into the one before.
 */
export const gapsOnPaper = (gaps: readonly Gap[], paper: Paper): readonly GapOnPaper[] => {
  const shown: (GapOnPaper & { readonly reason: GapReason; readonly lengthMs: number })[] = [];
  for (const { fromMs, toMs, reason } of gaps.toSorted((a, b) => a.fromMs - b.fromMs)) {
    if (paper.xOf(toMs) <= paper.left || paper.xOf(fromMs) >= paper.right) continue;
    const from = Math.max(paper.left, paper.xOf(fromMs));
    const to = Math.min(paper.right, Math.max(paper.xOf(toMs), from + THINNEST_PX));
    const last = shown.at(-1);
    const lengthMs = toMs - fromMs;
    if (last !== undefined && last.reason === reason && from - last.to < 1)
      shown[shown.length - 1] = { ...last, to, lengthMs: last.lengthMs + lengthMs };
    else shown.push({ from, to, label: undefined, at: from, reason, lengthMs });
  }
  return labelled(shown, paper);
};

const labelled = (
  shown: readonly (GapOnPaper & { readonly reason: GapReason; readonly lengthMs: number })[],
  { left, right, reserved, say, widthOf }: Paper,
): readonly GapOnPaper[] => {
  let free = left + reserved;
  return shown.map(({ from, to, reason, lengthMs }) => {
    const text = say(reason, lengthMs);
    const half = widthOf(text) / 2;
    const own = Math.min((from + to) / 2, right - half);
    const middle = Math.max(own, free + half);
    if (middle + half > right || middle - own > half * REACH) return { from, to, label: undefined, at: own };
    free = middle + half + 12;
    return { from, to, label: text, at: middle };
  });
};
