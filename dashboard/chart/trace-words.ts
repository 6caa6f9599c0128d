import type { ChannelReadings } from '../../rules/wire/api.js';
import { clockWords, dayWords, momentWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { valueWords } from '../../rules/words/number.js';

/** Midnight is told by its day. */
export const tickWords = (atMs: number, reader: Reader): string => {
  const clock = clockWords(atMs, reader);
  return clock === '00:00' || clock === '12:00 am' ? dayWords(atMs, reader) : clock;
};

/** What lies under the pointer: time, value, and the span of the bucket where it is one. */
export const cursorWords = (
  readings: ChannelReadings,
  atMs: number | undefined,
  reader: Reader,
): string | undefined => {
  if (atMs === undefined) return undefined;
  const index = readings.atMs.indexOf(atMs);
  const [mean, min, max] = [readings.mean[index], readings.min[index], readings.max[index]];
  if (mean === undefined || mean === null) return undefined;
  const value = `${momentWords(atMs, readings.toMs, reader)}  ${valueWords(readings.quantity, mean, reader)}`;
  if (readings.bucketMs === 0 || min === undefined || min === null || max === undefined || max === null) return value;
  return `${value} (${valueWords(readings.quantity, min, reader)} to ${valueWords(readings.quantity, max, reader)})`;
};
