import type { Change } from '../../rules/wire/feed.js';
import type { Journal } from '../journal/journal.js';

/** Journalled changes for everybody who listens: each once, in order, whoever wrote it. */
export type ChangeLine = {
  /** Those that nobody was told yet. `landed` spares reading them from the journal where they are the only ones. */
  next(landed: readonly Change[]): readonly Change[];
  /** Those after a sequence up to the last that was told: what a screen missed. */
  missed(since: number): readonly Change[];
  /** The last that was told. */
  told(): number;
};

const PAGE = 1_000;

export const buildChangeLine = (journal: Pick<Journal, 'sequence' | 'changesSince'>): ChangeLine => {
  let told = journal.sequence();
  const isNext = (landed: readonly Change[], newest: number): boolean =>
    landed.length === newest - told && landed.every(({ sequence }, index) => sequence === told + 1 + index);
  return {
    next: (landed) => {
      const newest = journal.sequence();
      if (newest === told) return [];
      const changes = isNext(landed, newest) ? landed : journal.changesSince(told);
      told = newest;
      return changes;
    },
    missed: (since) => {
      const changes: Change[] = [];
      for (let last = since; ; ) {
        const page = journal.changesSince(last, PAGE).filter(({ sequence }) => sequence <= told);
        changes.push(...page);
        const end = page.at(-1)?.sequence;
        if (end === undefined || page.length < PAGE) return changes;
        last = end;
      }
    },
    told: () => told,
  };
};
