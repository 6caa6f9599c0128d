import { parseArgs } from 'node:util';
import { REPORTED_SEED } from './pool.js';

export type Wish = { readonly nights: number; readonly seed: number; readonly json: boolean };

export const USAGE = `nights: judges the watch over many simulated nights, beside plain fixed limits

  npm run nights -- [--nights N] [--seed S] [--json]

  --nights N   how many nights, 1 to 100000 (default 200)
  --seed S     a whole number (default ${REPORTED_SEED}); use 1001 and up while tuning a rule
  --json       the figures as JSON instead of a table`;

const wholeNumber = (text: string, low: number, high: number): number | undefined => {
  const value = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
  return value >= low && value <= high ? value : undefined;
};

/** What was asked for, or the sentence that says what is wrong with it; undefined when only help was asked for. */
export const wishFrom = (args: readonly string[]): Wish | string | undefined => {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        nights: { type: 'string', default: '200' },
        seed: { type: 'string', default: String(REPORTED_SEED) },
        json: { type: 'boolean', default: false },
        help: { type: 'boolean', short: 'h', default: false },
      },
    });
    if (values.help) return undefined;
    const nights = wholeNumber(values.nights, 1, 100_000);
    const seed = wholeNumber(values.seed, 0, 999_999_999);
    if (nights === undefined) return `--nights takes a whole number from 1 to 100000, not "${values.nights}".`;
    if (seed === undefined) return `--seed takes a whole number from 0 to 999999999, not "${values.seed}".`;
    return { nights, seed, json: values.json };
  } catch (fault) {
    return fault instanceof Error ? fault.message : String(fault);
  }
};
