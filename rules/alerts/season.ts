/** What a season's wakings came to: each night fault that called somebody, and what the morning said of it. */
export type SeasonEntry =
  | { readonly what: 'call'; readonly faultId: string; readonly atMs: number; readonly messages: number }
  | { readonly what: 'judged'; readonly faultId: string; readonly atMs: number; readonly real: boolean }
  | { readonly what: 'missed'; readonly atMs: number };

export type Season = {
  readonly woken: number;
  readonly real: number;
  readonly notReal: number;
  /** Nobody has said yet. */
  readonly open: readonly string[];
  readonly missed: number;
};

/** "Woken 6 times, 6 real, none missed". Of two judgements of the same waking the later counts. */
export const seasonOf = (entries: readonly SeasonEntry[], isNight: (atMs: number) => boolean): Season => {
  const woken = new Set<string>();
  const judged = new Map<string, boolean>();
  let missed = 0;
  for (const entry of entries) {
    if (entry.what === 'call' && entry.messages > 0 && isNight(entry.atMs)) woken.add(entry.faultId);
    if (entry.what === 'judged') judged.set(entry.faultId, entry.real);
    if (entry.what === 'missed') missed += 1;
  }
  const answers = [...woken].map((faultId) => judged.get(faultId));
  return {
    woken: woken.size,
    real: answers.filter((real) => real === true).length,
    notReal: answers.filter((real) => real === false).length,
    open: [...woken].filter((faultId) => !judged.has(faultId)),
    missed,
  };
};
