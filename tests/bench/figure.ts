/** One line of a bench: what was measured, and what it is held against. */
export type Figure = {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** What else did the same in the same run. */
  readonly anchor?: { readonly what: string; readonly value: number; readonly unit?: string };
  readonly budget?: { readonly most: number } | { readonly least: number };
};

/** Something that could not be measured, with the reason. */
export type Skipped = { readonly what: string; readonly because: string };

export type Measured = { readonly figures: readonly Figure[]; readonly skipped: readonly Skipped[] };

export type BenchOptions = {
  readonly tanks: number;
  readonly days: number;
  readonly seconds: number;
  /** Tells what is going on. */
  readonly say: (line: string) => void;
};

export type Bench = {
  readonly name: string;
  readonly about: string;
  readonly run: (options: BenchOptions) => Promise<Measured>;
};

export const isWithin = ({ value, budget }: Figure): boolean | undefined => {
  if (budget === undefined) return undefined;
  return 'most' in budget ? value <= budget.most : value >= budget.least;
};

const number = (value: number): string =>
  Math.abs(value) >= 1_000 ? Math.round(value).toLocaleString('en') : String(Number(value.toPrecision(3)));

const budgetWords = (figure: Figure): string => {
  const { budget } = figure;
  if (budget === undefined) return '';
  const line = 'most' in budget ? `≤ ${number(budget.most)}` : `≥ ${number(budget.least)}`;
  return `${line} ${isWithin(figure) === true ? 'kept' : 'MISSED'}`;
};

const anchorWords = ({ anchor, unit }: Figure): string =>
  anchor === undefined ? '' : `${number(anchor.value)} ${anchor.unit ?? unit} (${anchor.what})`;

/** The figures as a table for reading. */
export const tableOf = ({ figures, skipped }: Measured): string => {
  const rows = figures.map((figure) => [
    figure.what,
    `${number(figure.value)} ${figure.unit}`,
    anchorWords(figure),
    budgetWords(figure),
  ]);
  const all = [['what', 'measured', 'beside', 'budget'], ...rows];
  const widths = [0, 1, 2, 3].map((column) => Math.max(...all.map((row) => row[column]?.length ?? 0)));
  const lines = all.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
  return [...lines, ...skipped.map(({ what, because }) => `skipped: ${what} (${because})`)].join('\n');
};

/** The value under which a share of the numbers lies. */
export const quantile = (numbers: readonly number[], share: number): number =>
  [...numbers].sort((a, b) => a - b)[Math.min(numbers.length - 1, Math.floor(numbers.length * share))] ?? Number.NaN;

/** Median of so many runs of something, milliseconds, after one that does not count. */
export const medianMs = async (runs: number, work: () => unknown): Promise<number> => {
  await work();
  const took: number[] = [];
  for (let n = 0; n < runs; n += 1) {
    const began = performance.now();
    await work();
    took.push(performance.now() - began);
  }
  return quantile(took, 0.5);
};
