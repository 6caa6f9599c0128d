import type { Place } from '../../rules/place.js';
import { isQuantity, QUANTITIES, type Quantity } from '../../rules/quantity.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { parseMoment } from '../http/moment.js';
import { didYouMean } from '../nearest.js';
import { type CsvFault, type CsvRow, csvRows } from './csv-rows.js';

/** One row of a file of recorded readings, value in the canonical unit of its quantity. */
export type Recorded = {
  readonly atMs: number;
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly value: number;
};

export const COLUMNS = ['time', 'tank', 'quantity', 'value'] as const;
type Column = (typeof COLUMNS)[number];

/** So many faults are told; more would scroll the first away. */
const MOST_FAULTS = 50;

/** The readings in order of time; or every fault (up to 50) with its line and how to mend it. */
export const parseRecorded = (
  text: string,
  places: readonly Place[],
): Result<readonly Recorded[], readonly CsvFault[]> => {
  const rows = csvRows(text);
  if (!rows.ok) return fault([rows.fault]);
  const [header, ...rest] = rows.value;
  if (header === undefined)
    return fault([{ line: 1, sentence: `The file is empty: begin it with ${COLUMNS.join(',')}.` }]);
  const columns = columnsOf(header);
  if (!columns.ok) return columns;
  const read = rest.map((row) => recordedFrom(row, columns.value, places));
  const faults = read.flatMap((each) => (each.ok ? [] : each.fault));
  if (faults.length > MOST_FAULTS) {
    const line = faults[MOST_FAULTS]?.line ?? 0;
    return fault([
      ...faults.slice(0, MOST_FAULTS),
      { line, sentence: `... and ${faults.length - MOST_FAULTS} more faults.` },
    ]);
  }
  if (faults.length > 0) return fault(faults);
  if (read.length === 0) return fault([{ line: 2, sentence: 'There is no reading after the header.' }]);
  const recorded = read.flatMap((each) => (each.ok ? [each.value] : []));
  return ok(recorded.sort((a, b) => a.atMs - b.atMs));
};

type Places = ReadonlyMap<Column, number>;

/** In any order, each once, no other. */
const columnsOf = ({ cells, line }: CsvRow): Result<Places, readonly CsvFault[]> => {
  const names = cells.map((cell) => cell.trim().toLowerCase());
  const missing = COLUMNS.filter((column) => !names.includes(column));
  const extra = names.filter((name) => !(COLUMNS as readonly string[]).includes(name));
  const twice = COLUMNS.filter((column) => names.indexOf(column) !== names.lastIndexOf(column));
  const sentences = [
    ...missing.map((column) => `The column “${column}” is missing: the header must be ${COLUMNS.join(',')}.`),
    ...extra.map(
      (name) =>
        `The column “${name}” is not known.${didYouMean(name, COLUMNS)} Take it away: the header must be ${COLUMNS.join(',')}.`,
    ),
    ...twice.map((column) => `The column “${column}” stands twice: keep one.`),
  ];
  if (sentences.length > 0) return fault(sentences.map((sentence) => ({ line, sentence })));
  return ok(new Map(COLUMNS.map((column) => [column, names.indexOf(column)])));
};

const recordedFrom = (
  { cells, line }: CsvRow,
  columns: Places,
  places: readonly Place[],
): Result<Recorded, readonly CsvFault[]> => {
  if (cells.length !== columns.size) {
    const sentence = `There are ${cells.length} values and the header has ${columns.size} columns: put a text with a comma in quotes (").`;
    return fault([{ line, sentence }]);
  }
  const cell = (column: Column): string => cells[columns.get(column) ?? -1]?.trim() ?? '';
  const [at, place, quantity, value] = [
    timeOf(cell('time')),
    placeOf(cell('tank'), places),
    quantityOf(cell('quantity')),
    numberOf(cell('value')),
  ];
  const sentences = [at, place, quantity, value].flatMap((each) => (each.ok ? [] : [each.fault]));
  if (!at.ok || !place.ok || !quantity.ok || !value.ok) return fault(sentences.map((sentence) => ({ line, sentence })));
  return ok({ atMs: at.value, placeId: place.value, quantity: quantity.value, value: value.value });
};

const timeOf = (text: string): Result<number, string> => {
  const atMs = parseMoment(text.replace(' ', 'T'));
  if (atMs !== undefined) return ok(atMs);
  return /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}/.test(text)
    ? fault(`The time “${text}” has no offset from UTC: add Z or, as in ${text}-04:00, the offset of your zone.`)
    : fault(
        `“${text}” is no time: write ISO 8601 with its offset, as in 2030-05-01T03:05:00-04:00, or milliseconds since 1970.`,
      );
};

/** By id or by name, in any case. */
const placeOf = (text: string, places: readonly Place[]): Result<string, string> => {
  const lower = text.toLowerCase();
  const place = places.find(({ id, name }) => id === lower || name.toLowerCase() === lower);
  if (place !== undefined) return ok(place.id);
  const known = places.map(({ id }) => id);
  return fault(
    `There is no “${text}” in the site file.${didYouMean(text, [...known, ...places.map(({ name }) => name)])} Correct it, or add it to the site file.`,
  );
};

const quantityOf = (text: string): Result<Quantity, string> =>
  isQuantity(text)
    ? ok(text)
    : fault(`“${text}” is no known quantity.${didYouMean(text, QUANTITIES)} Known: ${QUANTITIES.join(', ')}.`);

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

const numberOf = (text: string): Result<number, string> => {
  if (text === '') return fault('The value is empty: leave the whole row out where nothing was measured.');
  if (/^[+-]?\d+,\d+$/.test(text)) return fault(`“${text}” has a decimal comma: write a decimal point.`);
  const value = NUMBER.test(text) ? Number(text) : Number.NaN;
  return Number.isFinite(value)
    ? ok(value)
    : fault(`“${text}” is no number: write digits only, as in 23.4, without a unit.`);
};
