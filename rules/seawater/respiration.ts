import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import type { Standing } from '../stage/standing.js';
import { type Interval, withinFactor } from '../statistics/interval.js';

/**
 * Respiration from published relations, for a first estimate before the tank's own uptake is measured.
 * A measured uptake is better than any of these. There is no relation for clams with units that can be trusted: measure.
 */
export const RESPIRATION_RELATIONS = ['pacific-oyster-bougrier-1995', 'pacific-oyster-akashige-2005'] as const;
export type RespirationRelation = (typeof RESPIRATION_RELATIONS)[number];

/** A published value is held to be right within this factor (judgement, no source). */
export const PUBLISHED_FACTOR = 2;

type Relation = {
  readonly mgPerH: (temperatureC: number, dryTissueG: number) => number;
  readonly temperatureC: readonly [low: number, high: number];
  readonly dryTissueG: readonly [low: number, high: number];
  readonly standing: Standing;
  readonly source: string;
  /** Who it must not be used for, as the source itself says. */
  readonly notFor?: 'ripe-animals';
};

export const RESPIRATION: { readonly [relation in RespirationRelation]: Relation } = {
  // Form and range read in the abstract, coefficients in a growth model that cites it, exponent 0.8 from memory.
  // The abstract: not appropriate in the reproductive period, which is what a conditioning tank is in.
  'pacific-oyster-bougrier-1995': {
    mgPerH: (temperatureC, dryTissueG) => (-0.432 + 0.613 * 1.042 ** temperatureC) * dryTissueG ** 0.8,
    temperatureC: [5, 32],
    dryTissueG: [0.1, 3],
    standing: 'mixed',
    source: 'Bougrier and others 1995',
    notFor: 'ripe-animals',
  },
  // Read in the abstract, exponent 0.75 +- 0.10. It gives no range of weight: held here to that of the other relation.
  'pacific-oyster-akashige-2005': {
    mgPerH: (temperatureC, dryTissueG) => (0.072 * temperatureC - 0.64) * dryTissueG ** 0.75,
    temperatureC: [11.6, 26.5],
    dryTissueG: [0.1, 3],
    standing: 'confirmed',
    source: 'Akashige and others 2005',
  },
};

/**
 * Oxygen use of one animal, mg/h, within a factor of two, from °C and g of dry tissue.
 * Answers for the range of each relation: 5 to 32 °C (Bougrier), 11.6 to 26.5 °C (Akashige), 0.1 to 3 g.
 * Sources: Bougrier and others 1995; Akashige and others 2005; how each was read stands above.
 * Check: Bougrier at 20 °C and 1.5 g of dry tissue, 1.333054; Akashige, 1.08432.
 */
export const respirationMgPerH = ({
  relation,
  temperatureC,
  dryTissueG,
}: {
  readonly relation: RespirationRelation;
  readonly temperatureC: number;
  readonly dryTissueG: number;
}): Answer<Interval> => {
  const published = RESPIRATION[relation];
  const refusal = refusalFor(
    { temperatureC, dryTissueG },
    { temperatureC: published.temperatureC, dryTissueG: published.dryTissueG },
  );
  if (refusal !== undefined) return refuse(refusal);
  return ok(withinFactor(published.mgPerH(temperatureC, dryTissueG), PUBLISHED_FACTOR));
};
