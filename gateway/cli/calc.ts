import type { Answer } from '../../rules/answer.js';
import type { Calculation, CalculationResult, CalculationValues } from '../../rules/calc/calculation.js';
import { CALCULATIONS, calculationNamed } from '../../rules/calc/catalogue.js';
import { beyondFit } from '../../rules/seawater/fit.js';
import { calcArguments } from './calc-arguments.js';
import { answerSentence, calculationHelp, catalogueHelp, noAnswerReason } from './calc-words.js';

const DONE = 0;
const WRONG_USAGE = 2;

/**
 * `nightwater calc NAME [--option value]... [--json]`. Prints the answer, or the reason that there is none; both are
 * done (0). What was typed wrongly is said in a sentence (2).
 */
export const calc = (args: readonly string[], print: (line: string) => void): number => {
  const [name, ...rest] = args;
  if (name === '--help' || name === '-h') {
    return printed(catalogueHelp(CALCULATIONS), print);
  }
  const calculation = name === undefined ? undefined : calculationNamed(name);
  if (calculation === undefined) {
    print(unknownName(name));
    return WRONG_USAGE;
  }
  if (rest.includes('--help') || rest.includes('-h')) {
    return printed(calculationHelp(calculation), print);
  }
  const parsed = calcArguments(calculation, rest);
  if (!parsed.ok) {
    print(parsed.fault);
    return WRONG_USAGE;
  }
  const { values, json } = parsed.value;
  const answer = calculation.run(values);
  print(json ? JSON.stringify(asJson(calculation, values, answer)) : answerSentence(calculation, values, answer));
  return DONE;
};

const printed = (lines: readonly string[], print: (line: string) => void): number => {
  for (const line of lines) print(line);
  return DONE;
};

const unknownName = (name: string | undefined): string => {
  if (name === undefined) return 'Say what to calculate: nightwater calc NAME. nightwater calc --help lists the names.';
  const near = CALCULATIONS.map((one) => one.name).filter(
    (one) => one.includes(name) || one.startsWith(name.slice(0, 3)),
  );
  const hint = near.length === 0 ? '' : ` Was it ${near.slice(0, 5).join(', ')}?`;
  return `There is no calculation called ${name}.${hint} nightwater calc --help lists all ${CALCULATIONS.length}.`;
};

/** `unit` is one, or one for each figure. `assumed` is what nobody gave; `beyondFit` what lies past the measurements. */
const asJson = (calculation: Calculation, values: CalculationValues, answer: Answer<CalculationResult>) => {
  const { name, unit, source, options, caution } = calculation;
  const head = answer.ok ? { value: answer.value } : { value: null, reason: noAnswerReason(calculation, answer.fault) };
  const assumed = Object.fromEntries(
    options.flatMap(({ key, default: value }) =>
      value === undefined || Object.hasOwn(values, key) ? [] : [[key, value]],
    ),
  );
  const beyond = answer.ok ? beyondFitOf(calculation, values, answer.value) : [];
  return {
    ...head,
    unit,
    source,
    calculation: name,
    ...(Object.keys(assumed).length === 0 ? {} : { assumed }),
    ...(beyond.length === 0 ? {} : { beyondFit: beyond }),
    ...(caution === undefined ? {} : { caution }),
  };
};

const beyondFitOf = ({ fit }: Calculation, values: CalculationValues, value: CalculationResult): readonly string[] => {
  if (fit === undefined) return [];
  const numbers = Object.entries(values).filter((entry): entry is [string, number] => typeof entry[1] === 'number');
  const result = fit.result === undefined || typeof value !== 'number' ? {} : { [fit.result]: value };
  return beyondFit(fit.equation, { ...Object.fromEntries(numbers), ...result });
};
