import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Range, TEMPERATURE_C } from './range.js';

/** A spawning run by alternating warm and cool water, as planned. Rise is peak minus ambient. */
export type SpawningPlan = {
  readonly ambientC: number;
  readonly coolC: number;
  readonly riseC: number;
  readonly holdMin: number;
  readonly cycles: number;
  /** Never to be passed; from the stage profile, or the hatchery's own. */
  readonly ceilingC: number;
  /** Why this run may plan beyond the ceiling, in the words of the person who answers for it. */
  readonly argument?: string;
};

/** What the plan comes to. `argument` is there only when the plan passes the ceiling and somebody argued for it. */
export type CheckedPlan = {
  readonly peakC: number;
  /** Peak to ceiling; negative when the plan passes it. */
  readonly headroomC: number;
  readonly warmMin: number;
  readonly runMin: number;
  readonly argument?: string;
};

/** Shorter than this is not a reason. */
export const SHORTEST_ARGUMENT = 20;

const RANGES = {
  ambientC: TEMPERATURE_C,
  coolC: TEMPERATURE_C,
  riseC: [0, 30],
  holdMin: [1, 240],
  cycles: [1, 20],
  ceilingC: TEMPERATURE_C,
} satisfies Record<string, Range>;

/**
 * Checks a plan before anybody opens a hot supply. A peak above the ceiling is refused, unless an argument comes with
 * the plan; then the argument stays with the run, and the ceiling still sounds when the water passes it.
 * Answers for -2 to 45 °C, a rise of 0 to 30 °C, holds of 1 to 240 minutes and 1 to 20 whole cycles.
 * Check values: 21 °C and a rise of 5.6 °C peak at 26.6 °C; a rise of 11.1 °C peaks at 32.1 °C and passes a ceiling of
 * 30 °C. Source: arithmetic; the figures are common practice, no source.
 */
export const checkSpawningPlan = (plan: SpawningPlan): Answer<CheckedPlan> => {
  const { ambientC, coolC, riseC, holdMin, cycles, ceilingC } = plan;
  const refusal = refusalFor({ ambientC, coolC, riseC, holdMin, cycles, ceilingC }, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  if (!Number.isInteger(cycles)) return impossible('count-not-whole', { what: 'cycles', value: cycles });
  const peakC = ambientC + riseC;
  if (coolC >= peakC) return impossible('plan-without-contrast', { coolC, peakC });
  const checked = { peakC, headroomC: ceilingC - peakC, warmMin: cycles * holdMin, runMin: 2 * cycles * holdMin };
  if (!passes(peakC, ceilingC)) return ok(checked);
  const argument = (plan.argument ?? '').trim();
  if (argument === '') return impossible('plan-above-ceiling', { peakC, ceilingC });
  if (argument.length < SHORTEST_ARGUMENT) {
    return impossible('argument-too-short', { peakC, ceilingC, length: argument.length, shortest: SHORTEST_ARGUMENT });
  }
  return ok({ ...checked, argument });
};

/** Sums like 18.9 + 11.1 must not pass 30 by a rounding of the last bit. */
const passes = (peakC: number, ceilingC: number): boolean => peakC > ceilingC + 1e-9;
