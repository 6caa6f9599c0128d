/**
 * The quality flags of IOOS QARTOD, after the scheme of IODE/IOC (UNESCO 2013): 1 pass, 2 not evaluated, 3 suspect or
 * of high interest, 4 fail, 9 missing. The numbers are names, not a scale: 9 is not worse than 4, 2 not worse than 1.
 */
export const FLAG = { pass: 1, notEvaluated: 2, suspect: 3, fail: 4, missing: 9 } as const;
export type Flag = (typeof FLAG)[keyof typeof FLAG];

/** A series as the tests of whole series see it: undefined is a missing value. */
export type Series = readonly (number | undefined)[];

/** Both ends belong to the span. */
export type Span = readonly [low: number, high: number];

export const isInside = ([low, high]: Span, value: number): boolean => value >= low && value <= high;

/** NaN and the infinities are as missing as nothing at all: no number may come of them. */
export const isPresent = (value: number | undefined): value is number => value !== undefined && Number.isFinite(value);

/** The reference order, strongest first. One pass hides any number of not evaluated and missing results. */
const STRONGEST_FIRST: readonly Flag[] = [FLAG.fail, FLAG.suspect, FLAG.pass, FLAG.notEvaluated, FLAG.missing];

/** The exported QARTOD flag of one reading from the flags of its tests; no test at all is not evaluated. */
export const rollUp = (flags: readonly Flag[]): Flag =>
  STRONGEST_FIRST.find((flag) => flags.includes(flag)) ?? FLAG.notEvaluated;

/**
 * The stricter roll-up for screens: a required test that is missing or was not evaluated is never hidden by a pass.
 * Not part of QARTOD; common practice, no source.
 */
export const screenRollUp = (required: readonly Flag[], optional: readonly Flag[]): Flag => {
  const either = (flag: Flag) => required.includes(flag) || optional.includes(flag);
  if (either(FLAG.fail)) return FLAG.fail;
  if (required.includes(FLAG.missing)) return FLAG.missing;
  if (either(FLAG.suspect)) return FLAG.suspect;
  if (required.includes(FLAG.notEvaluated)) return FLAG.notEvaluated;
  return either(FLAG.pass) ? FLAG.pass : FLAG.notEvaluated;
};

/** Fail beyond the fail line, else suspect beyond the suspect line, else pass. A line of 0 is a line; equal is inside. */
export const beyond = (size: number, suspect: number | undefined, fail: number | undefined): Flag => {
  if (fail !== undefined && size > fail) return FLAG.fail;
  if (suspect !== undefined && size > suspect) return FLAG.suspect;
  return FLAG.pass;
};
