import { expect } from 'vitest';
import type { Answer, Refusal } from '../../rules/answer.js';

/** The value of an answer that a test relies on; a refusal fails the test and is shown. */
export const answered = <T>(answer: Answer<T>): T => {
  if (!answer.ok) throw new Error(`Refused: ${JSON.stringify(answer.fault)}`);
  return answer.value;
};

/** The refusal of an answer that a test expects to be refused. */
export const refused = <T>(answer: Answer<T>): Refusal => {
  if (answer.ok) throw new Error(`Not refused: ${JSON.stringify(answer.value)}`);
  return answer.fault;
};

/** Both ends included, as a published tolerance means it; a hair more for the last bit of the arithmetic. */
export const expectWithin = (actual: number, expected: number, tolerance: number, line: string): void => {
  const off = Math.abs(actual - expected);
  expect(off, `${line}: ${actual} is ${off} away from ${expected}`).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
};
