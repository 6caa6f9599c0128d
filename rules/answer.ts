import { fault, type Result } from './result.js';

/**
 * Why a calculation gives no answer. `what` names the argument as the function does, unit included (`temperatureC`).
 * `impossible` carries a code of its own for everything that is not a plain range; rules/words/refusal.ts says it.
 */
export type Refusal =
  | { readonly code: 'not-finite'; readonly what: string }
  | {
      readonly code: 'out-of-range';
      readonly what: string;
      readonly value: number;
      readonly low: number;
      readonly high: number;
    }
  | {
      readonly code: 'impossible';
      readonly because: string;
      readonly with?: Readonly<Record<string, number | string>>;
    };

/** A computed number, or the reason that there is none. Never clamped, never NaN. */
export type Answer<T = number> = Result<T, Refusal>;

/** The first argument outside its range (ends included) as a refusal, or undefined when all are inside. */
export const refusalFor = (
  values: Readonly<Record<string, number>>,
  ranges: Readonly<Record<string, readonly [low: number, high: number]>>,
): Refusal | undefined => {
  for (const [what, value] of Object.entries(values)) {
    if (!Number.isFinite(value)) return { code: 'not-finite', what };
    const [low, high] = ranges[what] ?? [-Infinity, Infinity];
    if (value < low || value > high) return { code: 'out-of-range', what, value, low, high };
  }
  return undefined;
};

export const refuse = (refusal: Refusal): { readonly ok: false; readonly fault: Refusal } => fault(refusal);

export const impossible = (
  because: string,
  parameters?: Readonly<Record<string, number | string>>,
): { readonly ok: false; readonly fault: Refusal } =>
  fault({
    code: 'impossible',
    because,
    ...(parameters === undefined ? {} : { with: parameters }),
  });
