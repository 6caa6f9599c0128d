/** When something is due, and which: a heap in an array, the earliest first, of one moment the lowest number first. */
type Due = readonly [atMs: number, index: number];

export type DueList = { readonly heap: Due[] };

const isBefore = (a: Due, b: Due): boolean => a[0] < b[0] || (a[0] === b[0] && a[1] < b[1]);

const swap = (heap: Due[], i: number, j: number): void => {
  const [a, b] = [heap[i], heap[j]];
  if (a === undefined || b === undefined) return;
  heap[i] = b;
  heap[j] = a;
};

const comesBefore = (heap: readonly Due[], i: number, j: number): boolean => {
  const [a, b] = [heap[i], heap[j]];
  return a !== undefined && b !== undefined && isBefore(a, b);
};

/** One more; an index may stand in the list more than once, the owner knows which time holds. */
export const putDue = ({ heap }: DueList, atMs: number, index: number): void => {
  heap.push([atMs, index]);
  let here = heap.length - 1;
  while (here > 0) {
    const parent = (here - 1) >> 1;
    if (!comesBefore(heap, here, parent)) return;
    swap(heap, here, parent);
    here = parent;
  }
};

export const firstDue = ({ heap }: DueList): Due | undefined => heap[0];

export const takeDue = ({ heap }: DueList): Due | undefined => {
  const first = heap[0];
  const last = heap.pop();
  if (first === undefined || last === undefined || heap.length === 0) return first;
  heap[0] = last;
  let here = 0;
  for (;;) {
    const left = 2 * here + 1;
    const least = comesBefore(heap, left + 1, left) ? left + 1 : left;
    if (!comesBefore(heap, least, here)) return first;
    swap(heap, here, least);
    here = least;
  }
};

export const dueListOf = (times: Iterable<readonly [atMs: number, index: number]>): DueList => {
  // A list in order is a heap, and sorting once is cheaper than putting one by one.
  return { heap: [...times].sort((a, b) => a[0] - b[0] || a[1] - b[1]) };
};
