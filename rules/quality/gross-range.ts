import type { Refusal } from '../answer.js';
import { FLAG, type Flag, isInside, isPresent, type Series, type Span } from './flag.js';

/** Sensor span: what the probe can tell, from its data sheet. User span: what the building can produce. Same unit. */
export type GrossRange = { readonly sensorSpan: Span; readonly userSpan?: Span | undefined };

/**
 * Gross range of one value: outside the sensor span fails, outside the user span is suspect; both ends are inside.
 * Source: QARTOD pH manual, test 4. Check value: sensor 10 to 50, user 20 to 40: 10 is suspect, 20 passes.
 */
export const grossRangeFlag = (value: number, { sensorSpan, userSpan }: GrossRange): Flag => {
  if (!isInside(sensorSpan, value)) return FLAG.fail;
  return userSpan === undefined || isInside(userSpan, value) ? FLAG.pass : FLAG.suspect;
};

/** Gross range over a series; a missing value is missing. The tank rule is the same. */
export const grossRangeFlags = (values: Series, range: GrossRange): Flag[] =>
  values.map((value) => (isPresent(value) ? grossRangeFlag(value, range) : FLAG.missing));

/** Why the spans cannot be used, or undefined: ends in order, and the user span inside the sensor span. */
export const spanRefusal = ({ sensorSpan, userSpan }: GrossRange): Refusal | undefined => {
  const [low, high] = sensorSpan;
  if (!(low <= high)) return { code: 'impossible', because: 'span-ends-swapped' };
  if (userSpan === undefined) return undefined;
  if (!(userSpan[0] <= userSpan[1])) return { code: 'impossible', because: 'span-ends-swapped' };
  if (userSpan[0] >= low && userSpan[1] <= high) return undefined;
  return { code: 'impossible', because: 'user-span-outside-sensor-span' };
};
