import { type Entry, isKind } from './entry.js';

/** Disinfectant that went into a place and was not yet shown to be gone. */
export type Inside = { readonly sinceMs: number; readonly product: string; readonly entryId: string };

/** What a residual test has to find at most when the hatchery's protocol names no figure: nothing. */
const NONE_MG_L = 0;

export const isClear = ({ foundMgL, allowedMgL = NONE_MG_L }: Entry<'residual-test'>['fields']): boolean =>
  foundMgL <= allowedMgL;

/**
 * Per place, the disinfectant inside, from the ruling entries in order. Only a residual test that is clear ends it:
 * rinsing alone, or time, does not.
 */
export const disinfectantInside = (entries: readonly Entry[]): ReadonlyMap<string, Inside> => {
  const inside = new Map<string, Inside>();
  for (const entry of entries) {
    if (entry.placeId === undefined) continue;
    if (isKind(entry, 'disinfection')) {
      const { product } = entry.fields;
      inside.set(entry.placeId, { sinceMs: entry.atMs, product, entryId: entry.id });
    }
    if (isKind(entry, 'residual-test') && isClear(entry.fields)) inside.delete(entry.placeId);
  }
  return inside;
};
