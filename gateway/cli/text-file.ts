import { readFileSync } from 'node:fs';
import { fault, ok, type Result } from '../../rules/result.js';

const WHY: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'this user may not read it',
  EISDIR: 'it is a folder',
};

/** A file in UTF-8, without the mark that some editors put first. */
export const readText = (path: string): Result<string, string> => {
  try {
    const bytes = readFileSync(path);
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (error instanceof TypeError) return fault(`${path} is not text in UTF-8: save it as UTF-8.`);
    return fault(`${path} cannot be read: ${WHY[code ?? ''] ?? code ?? 'unknown reason'}.`);
  }
};
