import type { Answer } from '../answer.js';
import type { SeawaterEquation } from '../seawater/fit.js';

/** What a person gives a calculation: numbers, lists of numbers, or words. */
export type CalculationValue = number | string | readonly number[];
export type CalculationValues = Readonly<Record<string, CalculationValue>>;

/** What comes out when it is more than one figure; a figure that does not apply is absent. */
export type CalculationFigure = number | boolean | string | readonly number[] | readonly string[];
export type CalculationResult = number | Readonly<Record<string, CalculationFigure | undefined>>;

/** One argument: `key` as the function has it, `name` the same for a command line, range with both ends included. */
export type CalculationOption = {
  readonly name: string;
  readonly key: string;
  readonly unit: string;
  readonly required: boolean;
  readonly low?: number;
  readonly high?: number;
  readonly default?: number | string;
  /** Takes several numbers. */
  readonly list?: true;
  /** Takes one of these words. */
  readonly choices?: readonly string[];
  /** Takes words of the person's own. */
  readonly text?: true;
};

export type Calculation = {
  readonly name: string;
  /** One line. */
  readonly purpose: string;
  readonly options: readonly CalculationOption[];
  /** Of the one figure, or of each by key; '1' for a pure number, '' for words and yes or no. */
  readonly unit: string | Readonly<Record<string, string>>;
  /** What each figure is called, when there are several. */
  readonly labels?: Readonly<Record<string, string>>;
  /** How many digits of the result mean anything, when they are few. */
  readonly digits?: number;
  readonly source: string;
  /** The usual caution, where the work can hurt somebody. */
  readonly caution?: string;
  /** The equation whose fitted range the values are compared with, and what the result is called in it. */
  readonly fit?: { readonly equation: SeawaterEquation; readonly result?: string };
  readonly run: (values: CalculationValues) => Answer<CalculationResult>;
};
