import type { DayColumns } from './day.js';

const NAMES = ['deviceMs', 'variant', 'delayMs', 'raw', 'flags', 'refusedMs'] as const;

const columnsFrom = (column: (name: (typeof NAMES)[number]) => Float64Array): DayColumns => ({
  deviceMs: column('deviceMs'),
  variant: column('variant'),
  delayMs: column('delayMs'),
  raw: column('raw'),
  flags: column('flags'),
  refusedMs: column('refusedMs'),
});

/** From one place up to, not including, another. Nothing is copied, and no column opened before it is asked for. */
export const slicedColumns = (columns: DayColumns, from: number, to: number): DayColumns => ({
  get deviceMs() {
    return columns.deviceMs.subarray(from, to);
  },
  get variant() {
    return columns.variant.subarray(from, to);
  },
  get delayMs() {
    return columns.delayMs.subarray(from, to);
  },
  get raw() {
    return columns.raw.subarray(from, to);
  },
  get flags() {
    return columns.flags.subarray(from, to);
  },
  get refusedMs() {
    return columns.refusedMs.subarray(from, to);
  },
});

/** Rows as columns; numbers in the order of `NAMES`. */
export type ColumnRow = readonly [
  deviceMs: number,
  variant: number,
  delayMs: number,
  raw: number,
  flags: number,
  refusedMs: number | null,
];

export const columnsFromRows = (rows: readonly ColumnRow[]): DayColumns => {
  const columns = columnsFrom(() => new Float64Array(rows.length));
  for (const [n, row] of rows.entries()) {
    for (const [place, name] of NAMES.entries()) columns[name][n] = row[place] ?? Number.NaN;
  }
  return columns;
};

/** Two stretches of readings as one, in order of device time and variant. */
export const mergedColumns = (one: DayColumns, other: DayColumns): DayColumns => {
  const joined = columnsFrom((name) => {
    const both = new Float64Array(one[name].length + other[name].length);
    both.set(one[name]);
    both.set(other[name], one[name].length);
    return both;
  });
  const order = Array.from(joined.deviceMs.keys()).sort(
    (a, b) =>
      (joined.deviceMs[a] ?? 0) - (joined.deviceMs[b] ?? 0) || (joined.variant[a] ?? 0) - (joined.variant[b] ?? 0),
  );
  return columnsFrom((name) => Float64Array.from(order, (place) => joined[name][place] ?? 0));
};
