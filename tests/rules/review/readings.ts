import type { ChannelReadings, Gap } from '../../../rules/wire/api.js';

/** Time and value of a reading; null: it came, and was no water. */
export type Took = readonly [atMs: number, value: number | null];

/** A channel's readings as the gateway answers them, every silence longer than `maxGapMs` a gap. */
export const readingsFrom = (
  took: readonly Took[],
  { fromMs, toMs, maxGapMs }: { readonly fromMs: number; readonly toMs: number; readonly maxGapMs: number },
): ChannelReadings => {
  const gaps = took.flatMap(([atMs], n): readonly Gap[] => {
    const before = took[n - 1]?.[0] ?? fromMs;
    return atMs - before > maxGapMs ? [{ fromMs: before, toMs: atMs, reason: 'board-silent' }] : [];
  });
  const values = took.map(([, value]) => value);
  return {
    channelId: 'l2.temperature',
    quantity: 'temperature',
    unit: 'degC',
    fromMs,
    toMs,
    bucketMs: 0,
    atMs: took.map(([atMs]) => atMs),
    min: values,
    mean: values,
    max: values,
    usable: values.map((value) => (value === null ? 0 : 1)),
    gaps,
  };
};
