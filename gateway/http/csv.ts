import { FLAG } from '../../rules/quality/flag.js';
import { verdictFromFlags } from '../../rules/quality/packed.js';
import { type Quantity, UNIT } from '../../rules/quantity.js';
import type { HistoryRow } from '../history/history.js';
import { isoWithOffset } from './moment.js';

/** [RFC 4180 2.5-2.7] quotes where a cell holds a comma, a quote or a line break; quotes inside are doubled. */
const cell = (text: string | number): string =>
  /[",\r\n]/.test(String(text)) ? `"${String(text).replaceAll('"', '""')}"` : String(text);

/** [RFC 4180 2.1] lines end with CRLF, the last too. */
export const csvLine = (cells: readonly (string | number)[]): string => `${cells.map(cell).join(',')}\r\n`;

/** Units stand in the header; `raw` keeps its own beside it, because a board may have changed it. */
export const exportHeader = (quantity: Quantity, zone: string): string =>
  headerOf(`${quantity} (${UNIT[quantity]})`, zone);

/** Of a file with several channels, which stand with their unit before each line. */
export const exportHeaderOfMany = (zone: string): string => `channel,unit of value,${headerOf('value', zone)}`;

const headerOf = (value: string, zone: string): string =>
  csvLine([
    `time (ISO 8601, ${zone})`,
    'arrival (ISO 8601)',
    value,
    'usable (1 yes, 0 no)',
    'flag (QARTOD: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing)',
    'flag of each test',
    'not plausible because',
    'raw as sent',
    'unit of raw',
    'source',
    'variant',
    "board's own time where it was not accepted (ISO 8601)",
  ]);

/** One reading. What is not known is an empty cell, never a zero. */
export const exportLine = (row: HistoryRow, zone: string): string => {
  const { sent } = row;
  const verdict = sent === undefined ? undefined : verdictFromFlags(sent.flags);
  const tests = Object.entries(verdict?.by ?? {}).map(([test, flag]) => `${test}=${flag}`);
  return csvLine([
    isoWithOffset(row.atMs, zone),
    isoWithOffset(row.arrivalMs, zone),
    row.value ?? '',
    row.usable ? 1 : 0,
    verdict?.flag ?? FLAG.notEvaluated,
    tests.join(' '),
    verdict?.bad ?? '',
    sent?.raw ?? '',
    sent?.unit ?? '',
    sent?.sourceId ?? '',
    sent?.variant ?? '',
    sent?.refusedMs === undefined ? '' : isoWithOffset(sent.refusedMs, zone),
  ]);
};
