/** Gauss-Legendre integration and linear equations, for the integral equations of the charts. */

export type GaussNode = { readonly at: number; readonly weight: number };

/**
 * Nodes and weights on [low, high]; roots of the Legendre polynomial by Newton's method.
 * Source: textbook form (from memory). Check: 2 on [-1, 1] are at 0.577350 and -0.577350, each of weight 1.
 */
export const gaussNodes = (count: number, low: number, high: number): readonly GaussNode[] =>
  Array.from({ length: count }, (_, i) => {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let round = 0; round < 20; round++) {
      const { value, derivative } = legendre(count, x);
      slope = derivative;
      x -= value / derivative;
    }
    const half = (high - low) / 2;
    return { at: (low + high) / 2 + half * x, weight: (2 * half) / ((1 - x * x) * slope * slope) };
  });

const legendre = (degree: number, x: number): { readonly value: number; readonly derivative: number } => {
  let [before, value] = [1, x];
  for (let n = 2; n <= degree; n++) [before, value] = [value, ((2 * n - 1) * x * value - (n - 1) * before) / n];
  return { value, derivative: (degree * (x * value - before)) / (x * x - 1) };
};

/**
 * Solves matrix * x = (1, 1, ..., 1) by elimination with row exchange.
 * Source: arithmetic. Check: (2, 0) and (1, 1) give 0.5 and 0.5.
 */
export const solve = (matrix: readonly (readonly number[])[]): readonly number[] => {
  const rows = matrix.map((row) => [...row, 1]);
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    const [pivot, ...below] = rows.splice(column).sort((a, b) => Math.abs(b[column] ?? 0) - Math.abs(a[column] ?? 0));
    if (pivot === undefined) break;
    rows.push(pivot, ...below.map((row) => less(row, pivot, (row[column] ?? 0) / (pivot[column] ?? 1))));
  }
  const x = new Array<number>(size).fill(0);
  for (let i = size - 1; i >= 0; i--) {
    const row = rows[i] ?? [];
    const known = x.reduce((sum, value, j) => sum + (j > i ? value * (row[j] ?? 0) : 0), 0);
    x[i] = ((row[size] ?? 0) - known) / (row[i] ?? 1);
  }
  return x;
};

const less = (row: readonly number[], pivot: readonly number[], times: number): number[] =>
  row.map((value, j) => value - times * (pivot[j] ?? 0));
