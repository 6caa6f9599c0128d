/**
 * Whether two pieces of plain data would be written down the same, field by field in their order; what is undefined is
 * not there. The same answer as comparing their JSON, without writing it.
 */
export const isSamePlain = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (typeof a === 'number' && typeof b === 'number') return isWrittenSame(a, b);
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) return Array.isArray(a) && Array.isArray(b) && isSameList(a, b);
  const [mine, theirs] = [fieldsOf(a), fieldsOf(b)];
  return (
    mine.length === theirs.length &&
    mine.every(([key, value], n) => key === theirs[n]?.[0] && isSamePlain(value, theirs[n]?.[1]))
  );
};

/** Minus nothing is written as nothing, and what is no finite number as null. */
const isWrittenSame = (a: number, b: number): boolean => a === b || (!Number.isFinite(a) && !Number.isFinite(b));

const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((value, n) => isSamePlain(value, b[n]));

const fieldsOf = (of: object): readonly (readonly [key: string, value: unknown])[] =>
  Object.entries(of).filter(([, value]) => value !== undefined);
