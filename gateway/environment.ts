import { readFileSync } from 'node:fs';
import { parseEnv } from 'node:util';
import { fault, ok, type Result } from '../rules/result.js';

/** Variables by name. What the process was given wins over the file. */
export type Environment = Readonly<Record<string, string | undefined>>;

/** The process's variables over those of a `.env` file; a file that is there and cannot be read is a fault. */
export const loadEnvironment = (given: Environment, path = '.env'): Result<Environment, string> => {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown reason';
    if (code === 'ENOENT') return ok(given);
    return fault(`The file ${path} cannot be read (${code}): make it readable for this user, or take it away.`);
  }
  const [line, number] = brokenLine(text);
  if (line !== undefined) {
    return fault(
      `Line ${number} of ${path} is not NAME=value: “${line}”. Write one variable a line; # begins a remark.`,
    );
  }
  return ok({ ...parseEnv(text), ...given });
};

const ASSIGNMENT = /^\s*(?:export\s+)?[A-Za-z_][A-Za-z0-9_]*\s*=/;

/** Node's parser passes over what it does not understand; a mistyped line must not vanish. */
const brokenLine = (text: string): readonly [string, number] | readonly [undefined, undefined] => {
  let quote: string | undefined;
  for (const [index, line] of text.split(/\r?\n/).entries()) {
    if (quote !== undefined) {
      if (line.includes(quote)) quote = undefined;
      continue;
    }
    if (line.trim() === '' || line.trimStart().startsWith('#')) continue;
    if (!ASSIGNMENT.test(line)) return [line.trim().slice(0, 40), index + 1];
    quote = openQuote(line.slice(line.indexOf('=') + 1).trim());
  }
  return [undefined, undefined];
};

const openQuote = (value: string): string | undefined => {
  const [first] = value;
  if (first !== '"' && first !== "'" && first !== '`') return undefined;
  return value.indexOf(first, 1) === -1 ? first : undefined;
};
