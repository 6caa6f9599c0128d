import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { logFactorial } from './gamma.js';
import { type Range, refusalIfBroken } from './range.js';

const TANKS: Range = [0, 10_000];

export type LineAssociation = {
  readonly attackFractionOnLine: number;
  readonly attackFractionElsewhere: number;
  readonly pOneSided: number;
};

/**
 * Are deaths tied to one supply line? Share of tanks affected on it and elsewhere, and how often chance alone would put
 * at least as many of the affected tanks on the line (Fisher, one-sided). A small p says that deaths follow the line, not
 * why: batch, stage, person and day may follow the line too.
 * Answers for 0 to 10,000 whole tanks each, one at least on the line and one elsewhere.
 * Check values: 4 of 5 against 0 of 6: p 0.0152; 3 of 4 against 1 of 5: p 0.167. Source: Fisher's exact test.
 */
export const lineAssociation = (tanks: {
  readonly affectedOnLine: number;
  readonly unaffectedOnLine: number;
  readonly affectedElsewhere: number;
  readonly unaffectedElsewhere: number;
}): Answer<LineAssociation> => {
  const { affectedOnLine, unaffectedOnLine, affectedElsewhere, unaffectedElsewhere } = tanks;
  const counts = { affectedOnLine, unaffectedOnLine, affectedElsewhere, unaffectedElsewhere };
  const refusal =
    refusalFor(counts, {
      affectedOnLine: TANKS,
      unaffectedOnLine: TANKS,
      affectedElsewhere: TANKS,
      unaffectedElsewhere: TANKS,
    }) ?? refusalIfBroken('tanks', Object.values(counts));
  if (refusal !== undefined) return refuse(refusal);
  const onLine = affectedOnLine + unaffectedOnLine;
  const elsewhere = affectedElsewhere + unaffectedElsewhere;
  if (onLine === 0 || elsewhere === 0) return impossible('nothing-to-compare');
  return ok({
    attackFractionOnLine: affectedOnLine / onLine,
    attackFractionElsewhere: affectedElsewhere / elsewhere,
    pOneSided: chanceOfAtLeast(affectedOnLine, { onLine, elsewhere, affected: affectedOnLine + affectedElsewhere }),
  });
};

type Margins = { readonly onLine: number; readonly elsewhere: number; readonly affected: number };

const chanceOfAtLeast = (affectedOnLine: number, { onLine, elsewhere, affected }: Margins): number => {
  let chance = 0;
  for (let k = affectedOnLine; k <= Math.min(onLine, affected); k += 1) {
    if (affected - k > elsewhere) continue;
    chance += Math.exp(
      logChoose(onLine, k) + logChoose(elsewhere, affected - k) - logChoose(onLine + elsewhere, affected),
    );
  }
  // The sum of all cases is 1 up to rounding.
  return Math.min(1, chance);
};

const logChoose = (of: number, taken: number): number =>
  logFactorial(of) - logFactorial(taken) - logFactorial(of - taken);
