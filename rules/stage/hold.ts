import type { HeldLines } from '../place.js';

/**
 * A change of stage tightens limits by itself and never widens one: what would become wider is held where it was until
 * a person takes it. A line that the new stage does not have at all is held, too.
 */
const SIDES = [
  ['limitLow', Math.max],
  ['limitHigh', Math.min],
  ['ceilingLow', Math.max],
  ['ceilingHigh', Math.min],
] as const;

/** Both sets of lines at once: of two on one side the tighter. */
export const tighter = <Lines extends HeldLines>(lines: Lines, held: HeldLines | undefined): Lines => {
  if (held === undefined) return lines;
  const merged: { -readonly [line in keyof HeldLines]?: HeldLines[line] } = {};
  for (const [side, pick] of SIDES) {
    const [mine, kept] = [lines[side], held[side]];
    if (kept !== undefined) merged[side] = mine === undefined ? kept : pick(mine, kept);
  }
  return { ...lines, ...merged };
};

/** The lines of before that the new ones would make wider; undefined when there is none. */
export const heldLines = (before: HeldLines | undefined, after: HeldLines | undefined): HeldLines | undefined => {
  const held: { -readonly [line in keyof HeldLines]?: HeldLines[line] } = {};
  for (const [side, pick] of SIDES) {
    const [was, is] = [before?.[side], after?.[side]];
    if (was !== undefined && (is === undefined || (is !== was && pick(is, was) === was))) held[side] = was;
  }
  return Object.keys(held).length === 0 ? undefined : held;
};
