import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** One line of a table of check values, by column. */
export type CheckRow = {
  readonly number: (column: string) => number;
  readonly text: (column: string) => string;
  /** The whole line, to name it when it fails. */
  readonly line: string;
};

/** The lines of `tests/fixtures/<name>`: `#` comments, one header line, then values without quotes. */
export const checkRows = (name: string): readonly CheckRow[] => {
  const lines = readFileSync(fileURLToPath(new URL(`../fixtures/${name}`, import.meta.url)), 'utf8').split('\n');
  const [header, ...rows] = lines.filter((line) => line !== '' && !line.startsWith('#'));
  if (header === undefined || rows.length === 0) throw new Error(`No check values in ${name}`);
  const columns = header.split(',');
  return rows.map((line) => checkRow(name, columns, line));
};

const checkRow = (name: string, columns: readonly string[], line: string): CheckRow => {
  const cells = line.split(',');
  if (cells.length !== columns.length) throw new Error(`${name}: ${cells.length} cells in "${line}"`);
  const text = (column: string): string => {
    const cell = cells[columns.indexOf(column)];
    if (cell === undefined) throw new Error(`${name} has no column ${column}`);
    return cell;
  };
  const number = (column: string): number => {
    const value = Number(text(column));
    if (text(column) === '' || !Number.isFinite(value)) throw new Error(`${name}: no number in ${column} of "${line}"`);
    return value;
  };
  return { number, text, line };
};
