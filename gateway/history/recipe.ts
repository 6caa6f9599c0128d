import type { Answer } from '../../rules/answer.js';
import { type Computation, computationsAt, type Known } from '../../rules/engine/compute.js';
import type { Quantity } from '../../rules/quantity.js';

/** How a quantity of a place is computed from what is measured there, through what is computed in between. */
export type Recipe = {
  /** Measured inputs; the reading of the first starts the computation and gives it its time. */
  readonly inputs: readonly Quantity[];
  /** Undefined when an input is missing. */
  readonly run: (known: Known, pressureKpa: number) => Answer | undefined;
};

/** The recipe that the live engine uses too (rules/engine/compute.ts); undefined when something it needs is not measured. */
export const recipeFor = (quantity: Quantity, measured: ReadonlySet<Quantity>): Recipe | undefined => {
  const computations = computationsAt(measured);
  const giving = (wanted: Quantity): Computation | undefined => computations.find(({ gives }) => gives === wanted);
  const inputsOf = (wanted: Quantity): readonly Quantity[] => {
    const computation = measured.has(wanted) ? undefined : giving(wanted);
    return computation === undefined ? [wanted] : [computation.from, ...computation.needs].flatMap(inputsOf);
  };
  const last = giving(quantity);
  if (last === undefined) return undefined;
  const feeds = (wanted: Quantity): readonly Computation[] => {
    const computation = measured.has(wanted) ? undefined : giving(wanted);
    return computation === undefined ? [] : [computation, ...computation.needs.flatMap(feeds)];
  };
  const fed = new Set([last.from, ...last.needs].flatMap(feeds));
  // In the order of the list each finds what it needs: one feeds the next.
  const before = computations.filter((computation) => computation !== last && fed.has(computation));
  return {
    inputs: [...new Set(inputsOf(quantity))],
    run: (known, pressureKpa) => {
      // Filled in place: a copy for each of some million readings took longer than computing them.
      const grown: { [quantity in Quantity]?: number } = before.length === 0 ? known : { ...known };
      for (const { gives, run } of before) {
        const answer = run(grown, pressureKpa);
        if (answer?.ok === true) grown[gives] = answer.value;
        else if (answer !== undefined && last.needs.includes(gives)) return answer;
      }
      return last.run(grown, pressureKpa);
    },
  };
};
