import type { Answer, Refusal } from '../../rules/answer.js';
import type {
  Calculation,
  CalculationFigure,
  CalculationOption,
  CalculationResult,
  CalculationValues,
} from '../../rules/calc/calculation.js';
import { refusalSentence } from '../../rules/words/refusal.js';

/** All names, each with its purpose. */
export const catalogueHelp = (calculations: readonly Calculation[]): readonly string[] => {
  const width = Math.max(...calculations.map(({ name }) => name.length));
  return [
    'nightwater calc NAME [--option value]... [--json]',
    'nightwater calc NAME --help says its options, units, ranges and source.',
    '',
    ...calculations.map(({ name, purpose }) => `  ${name.padEnd(width)}  ${purpose}`),
  ];
};

/** Options, units, ranges and source of one. */
export const calculationHelp = ({ name, purpose, options, unit, source, caution }: Calculation): readonly string[] => {
  const width = Math.max(...options.map((option) => option.name.length));
  return [
    `nightwater calc ${name} ${options.map(usage).join(' ')} [--json]`,
    purpose,
    '',
    ...options.map((option) => `  --${option.name.padEnd(width)}  ${optionHelp(option)}`),
    '',
    `Gives: ${typeof unit === 'string' ? unitName(unit) : givesEach(unit)}`,
    `Source: ${source}`,
    ...(caution === undefined ? [] : [`Caution: ${caution}`]),
  ];
};

const usage = (option: CalculationOption): string => {
  const value = option.list === true ? '1,2,3' : option.text === true ? '"..."' : (option.choices?.join('|') ?? 'N');
  return option.required ? `--${option.name} ${value}` : `[--${option.name} ${value}]`;
};

const optionHelp = ({ unit, required, low, high, choices, list, text, default: value }: CalculationOption): string =>
  [
    ...(unit === '' || unit === '1' ? [] : [unit]),
    ...(choices === undefined ? [] : [choices.join(' or ')]),
    ...(text === true ? ['words'] : []),
    ...(low === undefined || high === undefined ? [] : [`${shown(low)} to ${shown(high)}`]),
    ...(list === true ? ['one or more'] : []),
    ...(value === undefined ? [required ? 'needed' : 'may be left out'] : [`${value} when left out`]),
  ].join(', ');

const unitName = (unit: string): string => (unit === '1' || unit === '' ? 'a number without unit' : unit);

const givesEach = (unit: Readonly<Record<string, string>>): string =>
  Object.entries(unit)
    .map(([key, one]) => (one === '' || one === '1' ? key : `${key} (${one})`))
    .join(', ');

/** The answer as a sentence, with what was assumed for it; or why there is none. */
export const answerSentence = (
  calculation: Calculation,
  values: CalculationValues,
  answer: Answer<CalculationResult>,
): string => {
  if (!answer.ok) return `No answer: ${noAnswerReason(calculation, answer.fault)}`;
  const sentences = [figures(calculation, answer.value), assumption(calculation, values), calculation.caution];
  return sentences.filter((sentence) => sentence !== undefined).join(' ');
};

const figures = ({ name, unit, labels = {}, digits }: Calculation, value: CalculationResult): string => {
  const words = name.replaceAll('-', ' ');
  if (typeof value === 'number') {
    return `The ${words} is ${shown(value, digits)}${suffix(typeof unit === 'string' ? unit : '')}.`;
  }
  const units = typeof unit === 'string' ? {} : unit;
  const parts = Object.entries(labels).flatMap(([key, label]) => {
    const figure = value[key];
    return figure === undefined
      ? []
      : [`${label} ${figureWords(figure, digits)}${unitAfter(figure, units[key] ?? '')}`];
  });
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${parts.join(', ')}.`;
};

const figureWords = (figure: CalculationFigure, digits: number | undefined): string => {
  if (typeof figure === 'number') return shown(figure, digits);
  if (typeof figure === 'boolean') return figure ? 'yes' : 'no';
  if (typeof figure === 'string') return figure;
  if (figure.length === 0) return 'nothing';
  return figure.map((one) => (typeof one === 'number' ? shown(one, digits) : one)).join(' and ');
};

const unitAfter = (figure: CalculationFigure, unit: string): string => (typeof figure === 'string' ? '' : suffix(unit));

const suffix = (unit: string): string => (unit === '' || unit === '1' ? '' : ` ${unit}`);

const assumption = ({ options }: Calculation, values: CalculationValues): string | undefined => {
  const assumed = options.flatMap(({ key, name, unit, default: value }) =>
    value === undefined || Object.hasOwn(values, key) ? [] : [`--${name} ${value}${suffix(unit)}`],
  );
  return assumed.length === 0 ? undefined : `Assumed ${assumed.join(', ')}.`;
};

/** What is wrong with an option is said by the option's own name. */
export const noAnswerReason = ({ options }: Calculation, refusal: Refusal): string => {
  const option = refusal.code === 'impossible' ? undefined : options.find(({ key }) => key === refusal.what);
  if (option === undefined || refusal.code === 'impossible') return refusalSentence(refusal);
  if (refusal.code === 'not-finite') return `--${option.name} is missing or is not a number.`;
  const { value, low, high } = refusal;
  return `--${option.name} is ${shown(value)}${suffix(option.unit)}; there is an answer only from ${shown(low)} to ${shown(high)}${suffix(option.unit)}.`;
};

/** Six digits are as many as any of these can use; some say that theirs are fewer. */
const shown = (value: number, digits = 6): string => String(Number(value.toPrecision(digits)));
