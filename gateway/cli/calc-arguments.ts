import type {
  Calculation,
  CalculationOption,
  CalculationValue,
  CalculationValues,
} from '../../rules/calc/calculation.js';
import { fault, ok, type Result } from '../../rules/result.js';

export type CalcArguments = { readonly values: CalculationValues; readonly json: boolean };

type Given = { readonly name: string; readonly text: string | undefined };

/** What was typed after the name of a calculation, or a sentence about the first thing that is wrong with it. */
export const calcArguments = (calculation: Calculation, args: readonly string[]): Result<CalcArguments, string> => {
  const given = split(args);
  if (!given.ok) return given;
  const values: Record<string, CalculationValue> = {};
  for (const { name, text } of given.value.options) {
    const option = calculation.options.find((one) => one.name === name);
    if (option === undefined) return fault(unknownOption(calculation, name));
    const value = readValue(option, text);
    if (!value.ok) return value;
    const before = values[option.key];
    if (before !== undefined && option.list !== true) return fault(`--${name} is given twice.`);
    values[option.key] = together(before, value.value);
  }
  const missing = calculation.options.filter((option) => option.required && !Object.hasOwn(values, option.key));
  if (missing.length > 0) return fault(missingOptions(calculation, missing));
  return ok({ values, json: given.value.json });
};

/** `--name value` and `--name=value`; a value may begin with a minus when it is a number. */
const split = (
  args: readonly string[],
): Result<{ readonly options: readonly Given[]; readonly json: boolean }, string> => {
  const options: Given[] = [];
  let json = false;
  for (let i = 0; i < args.length; i += 1) {
    const arg = args[i] ?? '';
    if (!arg.startsWith('--')) return fault(`"${arg}" has no option before it: write --name value.`);
    const [name = '', ...afterEquals] = arg.slice(2).split('=');
    if (name === 'json' && afterEquals.length === 0) {
      json = true;
      continue;
    }
    const next = args[i + 1];
    if (afterEquals.length > 0) options.push({ name, text: afterEquals.join('=') });
    else if (next === undefined || next.startsWith('--')) options.push({ name, text: undefined });
    else {
      options.push({ name, text: next });
      i += 1;
    }
  }
  return ok({ options, json });
};

/** Decimal point, exponent allowed. No hexadecimal, no thousands separator: 1,000 would be two numbers. */
const NUMBER = /^[-+]?(\d+(\.\d*)?|\.\d+)(e[-+]?\d+)?$/i;

const readValue = (option: CalculationOption, text: string | undefined): Result<CalculationValue, string> => {
  const { name } = option;
  if (text === undefined || text.trim() === '')
    return fault(`--${name} has no value: write --${name} ${shape(option)}.`);
  if (option.text === true) return ok(text);
  if (option.choices !== undefined) {
    if (option.choices.includes(text)) return ok(text);
    return fault(`--${name} is "${text}"; it can be ${option.choices.join(' or ')}.`);
  }
  const parts = option.list === true ? text.split(',').map((part) => part.trim()) : [text.trim()];
  const bad = parts.find((part) => !NUMBER.test(part) || !Number.isFinite(Number(part)));
  if (bad !== undefined) return fault(`--${name} is "${bad}", which is not a number; write it with a decimal point.`);
  const numbers = parts.map(Number);
  return ok(option.list === true ? numbers : (numbers[0] ?? Number.NaN));
};

const shape = ({ list, text, choices }: CalculationOption): string => {
  if (list === true) return '1,2,3';
  if (text === true) return '"words"';
  return choices === undefined ? 'NUMBER' : choices.join('|');
};

/** A list may be given in pieces. */
const together = (before: CalculationValue | undefined, value: CalculationValue): CalculationValue =>
  typeof before === 'object' && typeof value === 'object' ? [...before, ...value] : value;

const named = (options: readonly CalculationOption[]): string =>
  options.map(({ name, unit }) => `--${name}${unit === '' || unit === '1' ? '' : ` (${unit})`}`).join(', ');

const unknownOption = (calculation: Calculation, name: string): string =>
  `${calculation.name} has no option --${name}. It has ${named(calculation.options)} and --json.`;

const missingOptions = ({ name }: Calculation, missing: readonly CalculationOption[]): string =>
  `${name} needs ${named(missing)}. nightwater calc ${name} --help says more.`;
