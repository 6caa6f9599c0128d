/**
 * When each of a row of things is due, and which is first: a tree of the earlier of two over the times themselves, so
 * that it follows from the times alone, whatever was done to them in which order. Flat, because a group of readings
 * copies it whole. `times[1]` is the earliest of all; the times themselves begin at `leaves`.
 */
export type DueTree = { readonly leaves: number; readonly times: Float64Array };

const NEVER = Number.POSITIVE_INFINITY;

const timeAt = ({ times }: DueTree, node: number): number => times[node] ?? NEVER;

const settle = ({ times }: DueTree, node: number): boolean => {
  const [left = NEVER, right = NEVER] = [times[2 * node], times[2 * node + 1]];
  const first = left < right ? left : right;
  if (times[node] === first) return false;
  times[node] = first;
  return true;
};

/** Times by their index; what has none is not due. */
export const dueTreeOf = (dues: readonly (number | undefined)[]): DueTree => {
  let leaves = 1;
  while (leaves < dues.length) leaves *= 2;
  const tree = { leaves, times: new Float64Array(2 * leaves).fill(NEVER) };
  for (const [index, atMs] of dues.entries()) tree.times[leaves + index] = atMs ?? NEVER;
  for (let node = leaves - 1; node > 0; node -= 1) settle(tree, node);
  return tree;
};

/** The same tree, to be changed without touching the first. */
export const copyOfDues = ({ leaves, times }: DueTree): DueTree => ({ leaves, times: times.slice() });

/** The time of one; undefined when it is not due any more. */
export const setDue = (tree: DueTree, index: number, atMs: number | undefined): void => {
  tree.times[tree.leaves + index] = atMs ?? NEVER;
  for (let node = (tree.leaves + index) >> 1; node > 0 && settle(tree, node); ) node >>= 1;
};

/** When the first is due; undefined when nothing is. */
export const firstDueMs = (tree: DueTree): number | undefined => {
  const firstMs = timeAt(tree, 1);
  return firstMs === NEVER ? undefined : firstMs;
};

const collect = (tree: DueTree, node: number, atMs: number, found: number[]): void => {
  // A node later than the moment has nothing of it below; an earlier one is asked for never.
  if (timeAt(tree, node) > atMs) return;
  if (node >= tree.leaves) {
    found.push(node - tree.leaves);
    return;
  }
  collect(tree, 2 * node, atMs, found);
  collect(tree, 2 * node + 1, atMs, found);
};

/** All that are due by a moment, the lowest index first. */
export const dueBy = (tree: DueTree, atMs: number): readonly number[] => {
  const found: number[] = [];
  collect(tree, 1, atMs, found);
  return found;
};
