/** Letters to change, add or take away to make one word of the other. */
const distance = (a: string, b: string): number => {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (const [i, letter] of [...a].entries()) {
    const next = [i + 1];
    for (const [j, other] of [...b].entries()) {
      const change = (row[j] ?? 0) + (letter === other ? 0 : 1);
      next.push(Math.min(change, (row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
};

/** The known word that was probably meant; undefined when none is near. Case is no difference. */
export const nearestTo = (word: string, known: readonly string[]): string | undefined => {
  const lower = word.toLowerCase();
  const ranked = known
    .map((candidate) => ({ candidate, away: distance(lower, candidate.toLowerCase()) }))
    .sort((a, b) => a.away - b.away);
  const [best] = ranked;
  return best !== undefined && best.away <= Math.max(1, Math.floor(word.length / 3)) ? best.candidate : undefined;
};

/** ` Did you mean “x”?`, or nothing: to stand behind a sentence. */
export const didYouMean = (word: string, known: readonly string[]): string => {
  const near = nearestTo(word, known);
  return near === undefined ? '' : ` Did you mean “${near}”?`;
};
