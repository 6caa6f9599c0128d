import { fault, ok, type Result } from '../../rules/result.js';

export type CsvRow = { readonly line: number; readonly cells: readonly string[] };

/** What cannot be read as CSV, with its line counted from 1. */
export type CsvFault = { readonly line: number; readonly sentence: string };

/** [RFC 4180] rows of a CSV, quotes and line breaks inside them included; LF alone ends a line too. Empty lines are skipped. */
export const csvRows = (text: string): Result<readonly CsvRow[], CsvFault> => {
  const rows: CsvRow[] = [];
  let [cells, cell, line, began]: [string[], string, number, number] = [[], '', 1, 1];
  let quotedFrom: number | undefined;
  const endRow = (): void => {
    if (cells.length > 0 || cell !== '') rows.push({ line: began, cells: [...cells, cell] });
    [cells, cell, began] = [[], '', line + 1];
  };
  for (let index = 0; index < text.length; index += 1) {
    const letter = text[index] ?? '';
    if (quotedFrom !== undefined) {
      if (letter === '"' && text[index + 1] === '"') index += 1;
      else if (letter === '"') {
        quotedFrom = undefined;
        continue;
      }
      cell += letter;
      if (letter === '\n') line += 1;
    } else if (letter === '"' && cell === '') quotedFrom = line;
    else if (letter === ',') [cells, cell] = [[...cells, cell], ''];
    else if (letter === '\n') {
      endRow();
      line += 1;
      began = line;
    } else if (letter !== '\r') cell += letter;
  }
  if (quotedFrom !== undefined)
    return fault({ line: quotedFrom, sentence: 'A quote (") opens here and is never closed.' });
  endRow();
  return ok(rows);
};
