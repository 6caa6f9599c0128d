/**
 * One comparator with a deadband. True beyond the line, false only once back behind it by more than the deadband;
 * on either border nothing changes. Terms: ISA-18.2 deadband (from memory); equality: decision of this project.
 */
export const crossed = (
  was: boolean,
  value: number,
  { side, line, deadband }: { readonly side: 'low' | 'high'; readonly line: number; readonly deadband: number },
): boolean => {
  const beyond = side === 'high' ? value - line : line - value;
  if (beyond > 0) return true;
  return beyond < -deadband ? false : was;
};
