import { momentWords } from '../rules/words/clock.js';
import type { Clock } from './clock.js';
import type { Config } from './config.js';
import type { History } from './history/history.js';
import { openSpool, type Spool } from './history/spool.js';
import { openSqliteHistory } from './history/sqlite.js';
import type { Journal } from './journal/journal.js';
import { rulingSite } from './settings.js';

export type HistoryParts = {
  readonly config: Pick<Config, 'history'>;
  readonly journal: Journal;
  readonly clock: Clock;
  readonly say: (line: string) => void;
};

export type OpenHistory = {
  readonly history: History;
  /** Where a history database elsewhere is set. */
  readonly spool?: Spool;
  close(): Promise<void>;
};

/** Before anything lands: from here on each landing says what is due to a history database. */
export const openHistory = ({ config, journal, clock, say }: HistoryParts): OpenHistory => {
  if (config.history.kind === 'sqlite') {
    journal.due.follow(undefined);
    const history = openSqliteHistory({ journal, now: clock.now });
    return { history, close: history.close };
  }
  const { kind: _, ...database } = config.history;
  const site = () => rulingSite(journal, clock.now()).body;
  const address = { ...database, site: site().id };
  const history = openSqliteHistory({ journal, now: clock.now, address });
  const spool = openSpool({
    ...{ journal, say, address },
    now: clock.now,
    when: (atMs) => momentWords(atMs, clock.now(), site()),
  });
  return {
    history,
    spool,
    close: async () => {
      await spool.close();
      await history.close();
    },
  };
};
