import { fault, ok, type Result } from '../../rules/result.js';
import { didYouMean } from '../nearest.js';

/** Which options a command takes: with a value, or without one. */
export type Options = Readonly<Record<string, 'value' | 'flag'>>;

export type Typed<O extends Options> = {
  readonly words: readonly string[];
  readonly values: { readonly [name in keyof O as O[name] extends 'value' ? name : never]?: string };
  readonly flags: { readonly [name in keyof O as O[name] extends 'flag' ? name : never]: boolean };
};

/** Splits what was typed; the first thing wrong with it as a sentence. After `--` everything is a word. */
export const parseArguments = <O extends Options>(args: readonly string[], options: O): Result<Typed<O>, string> => {
  const words: string[] = [];
  const values: Record<string, string> = {};
  const flags: Record<string, boolean> = Object.fromEntries(
    Object.entries(options).flatMap(([name, kind]) => (kind === 'flag' ? [[name, false]] : [])),
  );
  for (let index = 0; index < args.length; index += 1) {
    const word = args[index] ?? '';
    if (word === '--') {
      words.push(...args.slice(index + 1));
      break;
    }
    if (!word.startsWith('--')) {
      if (/^-[a-zA-Z]/.test(word)) return fault(unknown(word, options));
      words.push(word);
      continue;
    }
    const [name = '', given] = splitOption(word);
    const kind = Object.hasOwn(options, name) ? options[name] : undefined;
    if (kind === undefined) return fault(unknown(`--${name}`, options));
    if (kind === 'flag') {
      if (given !== undefined) return fault(`--${name} takes no value.`);
      flags[name] = true;
      continue;
    }
    const value = given ?? args[index + 1];
    if (value === undefined || (given === undefined && value.startsWith('--')))
      return fault(`--${name} needs a value after it.`);
    if (Object.hasOwn(values, name)) return fault(`--${name} stands twice.`);
    values[name] = value;
    if (given === undefined) index += 1;
  }
  return ok({ words, values, flags } as unknown as Typed<O>);
};

const splitOption = (word: string): readonly [string, string?] => {
  const at = word.indexOf('=');
  return at < 0 ? [word.slice(2)] : [word.slice(2, at), word.slice(at + 1)];
};

const unknown = (option: string, options: Options): string => {
  const known = Object.keys(options).map((name) => `--${name}`);
  const list = known.length === 0 ? 'It takes no options.' : `Known: ${known.join(', ')}.`;
  return `There is no option ${option}.${didYouMean(option, known)} ${list}`;
};
