/** Two lists that belong together; a missing partner is NaN, which the calculation refuses by name. */
export const pairs = (first: readonly number[], second: readonly number[]): readonly (readonly [number, number])[] =>
  Array.from({ length: Math.max(first.length, second.length) }, (_, i) => [first[i] ?? NaN, second[i] ?? NaN] as const);
