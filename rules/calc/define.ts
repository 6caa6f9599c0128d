import { type Answer, impossible, type Refusal, refuse } from '../answer.js';
import type { Calculation, CalculationOption, CalculationResult, CalculationValues } from './calculation.js';

type Range = readonly [low: number, high: number];
type Value = number | string | readonly number[] | undefined;

/** An option that remembers the type of its value, so that `run` is checked against the options. */
export type Typed<Key extends string, V extends Value> = CalculationOption & {
  readonly key: Key;
  /** Only for the compiler; never there. */
  readonly valued?: V;
};

/** `temperatureC` is `temperature-c` on a command line. */
const optionName = (key: string): string => key.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const ends = ([low, high]: Range) => ({ low, high });

export const needed = <Key extends string>(key: Key, unit: string, range: Range): Typed<Key, number> => ({
  name: optionName(key),
  key,
  unit,
  required: true,
  ...ends(range),
});

export const optional = <Key extends string>(key: Key, unit: string, range: Range): Typed<Key, number | undefined> => ({
  name: optionName(key),
  key,
  unit,
  required: false,
  ...ends(range),
});

export const assumed = <Key extends string>(
  key: Key,
  unit: string,
  range: Range,
  value: number,
): Typed<Key, number> => ({ name: optionName(key), key, unit, required: false, ...ends(range), default: value });

export const list = <Key extends string>(key: Key, unit: string, range: Range): Typed<Key, readonly number[]> => ({
  name: optionName(key),
  key,
  unit,
  required: true,
  ...ends(range),
  list: true,
});

export const choice = <Key extends string, const Word extends string>(
  key: Key,
  choices: readonly Word[],
  value: NoInfer<Word>,
): Typed<Key, Word> => ({ name: optionName(key), key, unit: '', required: false, choices, default: value });

export const text = <Key extends string>(key: Key): Typed<Key, string | undefined> => ({
  name: optionName(key),
  key,
  unit: '',
  required: false,
  text: true,
});

type ValueOf<O> = O extends Typed<string, infer V> ? V : never;
type ValuesOf<Options extends readonly Typed<string, Value>[]> = {
  readonly [O in Options[number] as O['key']]: ValueOf<O>;
};

type Definition<Options extends readonly Typed<string, Value>[]> = Omit<
  Calculation,
  'options' | 'unit' | 'labels' | 'run'
> & {
  readonly options: Options;
  /** The unit of one figure, or label and unit of each. */
  readonly gives: string | Readonly<Record<string, readonly [label: string, unit: string]>>;
  readonly run: (values: ValuesOf<Options>) => Answer<CalculationResult>;
};

/**
 * A calculation whose `run` takes exactly what its options promise, and refuses what is outside their ranges.
 */
export const define = <const Options extends readonly Typed<string, Value>[]>({
  gives,
  run,
  ...rest
}: Definition<Options>): Calculation => ({
  ...rest,
  ...(typeof gives === 'string' ? { unit: gives } : { unit: each(gives, 1), labels: each(gives, 0) }),
  run: (values) => {
    const taken = rest.options.map((option) => [option, valueFor(option, values)] as const);
    for (const [option, value] of taken) {
      const refusal = refusalOf(option, value);
      if (refusal !== undefined) return refuse(refusal);
    }
    // Each value has just been held against its option: this is the border where names become types.
    return run(Object.fromEntries(taken.map(([{ key }, value]) => [key, value])) as ValuesOf<Options>);
  },
});

const each = (gives: Readonly<Record<string, readonly [string, string]>>, which: 0 | 1): Record<string, string> =>
  Object.fromEntries(Object.entries(gives).map(([key, labelAndUnit]) => [key, labelAndUnit[which]]));

const valueFor = (option: CalculationOption, values: CalculationValues): Value => {
  const given = Object.hasOwn(values, option.key) ? values[option.key] : option.default;
  return option.list === true && typeof given === 'number' ? [given] : given;
};

const refusalOf = (option: CalculationOption, value: Value): Refusal | undefined => {
  const { key, choices, required, low = -Infinity, high = Infinity } = option;
  if (value === undefined) return required ? { code: 'not-finite', what: key } : undefined;
  if (option.text === true) return typeof value === 'string' ? undefined : notAChoice(key, String(value));
  if (choices !== undefined) return choices.some((word) => word === value) ? undefined : notAChoice(key, String(value));
  const numbers = option.list === true ? value : [value];
  if (typeof numbers === 'string' || typeof numbers === 'number') return { code: 'not-finite', what: key };
  for (const number of numbers) {
    if (typeof number !== 'number' || !Number.isFinite(number)) return { code: 'not-finite', what: key };
    if (number < low || number > high) return { code: 'out-of-range', what: key, value: number, low, high };
  }
  return undefined;
};

const notAChoice = (what: string, value: string): Refusal => impossible('not-a-choice', { what, value }).fault;
