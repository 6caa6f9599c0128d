/** The middle of the numbers, of an even many the upper one: always one that occurred. Undefined without any. */
export const medianOf = (numbers: readonly number[]): number | undefined =>
  [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];
