import { writeFileSync } from 'node:fs';
import { fault, ok, type Result } from '../../rules/result.js';

/** Writes a file that is not there yet: a command never writes over somebody's copy. */
export const writeNew = (path: string, text: string): Result<undefined, string> => {
  try {
    writeFileSync(path, text, { flag: 'wx' });
    return ok(undefined);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return fault(`${path} is there already and was left as it is: choose another name.`);
    return fault(`${path} cannot be written (${code ?? 'unknown reason'}).`);
  }
};
