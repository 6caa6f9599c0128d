/** First-pass criterion widely quoted with ISA-18.2, from memory: three activations within 60 s. */
const CHATTER_COUNT = 3;
const CHATTER_MS = 60_000;

/** Activations worth remembering: the newest ones. */
export const remembered = (activationsMs: readonly number[], atMs: number): readonly number[] =>
  [...activationsMs, atMs].slice(-CHATTER_COUNT);

/** Whether the newest activations came so fast that the signal, not the water, is to be looked at. */
export const isChattering = (activationsMs: readonly number[]): boolean => {
  const [first, last] = [activationsMs.at(-CHATTER_COUNT), activationsMs.at(-1)];
  return first !== undefined && last !== undefined && last - first <= CHATTER_MS;
};
