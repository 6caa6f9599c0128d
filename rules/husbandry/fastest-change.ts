import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Range, refusalInList } from './range.js';

export type TimedTemperature = { readonly minute: number; readonly temperatureC: number };

const MINUTE: Range = [0, 10_000_000];
const TEMPERATURE_C: Range = [-30, 100];

/**
 * The largest change of temperature over any window of this length, straight lines between readings; up or down. A window
 * with a step longer than `maxGapMin` in it (the window itself when absent) is not judged.
 * Answers for -30 to 100 °C, rising minutes of 0 to 10 million and windows of 0.1 to 100,000 minutes.
 * Check value: 22.1 to 26.0 °C from minute 10 to 40, window 30: 3.9 °C, 7.8 °C/h. Source: arithmetic.
 */
export const fastestChange = ({
  readings,
  windowMin,
  maxGapMin = windowMin,
}: {
  readonly readings: readonly TimedTemperature[];
  readonly windowMin: number;
  readonly maxGapMin?: number;
}): Answer<{ readonly largestChangeC: number; readonly perHourC: number }> => {
  const minutes = readings.map((reading) => reading.minute);
  const refusal =
    refusalFor({ windowMin, maxGapMin }, { windowMin: [0.1, 100_000], maxGapMin: [0.1, 100_000] }) ??
    refusalInList('minute', minutes, MINUTE) ??
    refusalInList(
      'temperatureC',
      readings.map((reading) => reading.temperatureC),
      TEMPERATURE_C,
    );
  if (refusal !== undefined) return refuse(refusal);
  if (minutes.some((minute, i) => minute <= (minutes[i - 1] ?? -1))) return impossible('times-not-rising');
  // The difference of two broken lines is itself one: its largest value is where a window begins or ends at a reading.
  const starts = [...minutes, ...minutes.map((minute) => minute - windowMin)];
  const changes = starts.flatMap((start) => changeFrom({ readings, windowMin, maxGapMin }, start) ?? []);
  if (changes.length === 0) return impossible('window-not-covered', { windowMin });
  const largestChangeC = Math.max(...changes);
  return ok({ largestChangeC, perHourC: (largestChangeC * 60) / windowMin });
};

type Search = {
  readonly readings: readonly TimedTemperature[];
  readonly windowMin: number;
  readonly maxGapMin: number;
};

const changeFrom = ({ readings, windowMin, maxGapMin }: Search, startMin: number): number | undefined => {
  const end = startMin + windowMin;
  const from = temperatureAt(readings, startMin);
  const to = temperatureAt(readings, end);
  if (from === undefined || to === undefined) return undefined;
  const gap = readings.some((reading, i) => {
    const before = readings[i - 1];
    if (before === undefined || reading.minute <= startMin || before.minute >= end) return false;
    return reading.minute - before.minute > maxGapMin;
  });
  return gap ? undefined : Math.abs(to - from);
};

/** On the straight line between the readings around a minute; nothing before the first and after the last. */
const temperatureAt = (readings: readonly TimedTemperature[], minute: number): number | undefined => {
  const after = readings.findIndex((reading) => reading.minute >= minute);
  const next = readings[after];
  if (next === undefined) return undefined;
  if (next.minute === minute) return next.temperatureC;
  const previous = readings[after - 1];
  if (previous === undefined) return undefined;
  const share = (minute - previous.minute) / (next.minute - previous.minute);
  return previous.temperatureC + share * (next.temperatureC - previous.temperatureC);
};
