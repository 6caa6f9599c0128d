import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';

export const POROSITY_RANGE = [0.2, 0.95] as const;

/**
 * Square of the tortuosity of a bed: how much longer the way through the pores is. Answers for porosity 0.2 to 0.95.
 * Source: Boudreau 1996, 1 - ln(porosity^2). Check: 0.40 gives 2.832581.
 */
export const tortuositySquared = ({ porosity }: { readonly porosity: number }): Answer => {
  const refusal = refusalFor({ porosity }, { porosity: POROSITY_RANGE });
  return refusal === undefined ? ok(tortuositySquaredOf(porosity)) : refuse(refusal);
};

/** The same for a number already checked. Source: Boudreau 1996. Check: 0.40 gives 2.832581. */
export const tortuositySquaredOf = (porosity: number): number => 1 - Math.log(porosity ** 2);
