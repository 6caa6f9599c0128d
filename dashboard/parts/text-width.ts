/**
 * Widths of B612's letters in em, measured in the font. Good to a few per cent for plain text, which is what deciding
 * between a longer and a shorter phrase needs; no canvas is asked in the middle of a render.
 */
const NARROW = /[iIl.,:;'|!°()[\]]/;
const WIDE = /[mwMW%@]/;

export const textWidth = (text: string, sizePx: number): number => {
  let em = 0;
  for (const letter of text) em += letter === ' ' ? 0.3 : NARROW.test(letter) ? 0.33 : WIDE.test(letter) ? 0.95 : 0.62;
  return em * sizePx;
};
