import { lastDone } from '../rules/log/done.js';
import { overdueWork } from '../rules/log/round.js';
import { buildReports, type Reports } from './alerts/report.js';
import { openWaking, type Waking } from './alerts/waking.js';
import type { Clock } from './clock.js';
import type { Config } from './config.js';
import type { History } from './history/history.js';
import type { Spool } from './history/spool.js';
import type { Journal } from './journal/journal.js';
import type { LogDesk } from './log-desk.js';
import { rulingSite } from './settings.js';
import type { Keeping } from './watchkeeper.js';

type WakingNeeds = {
  readonly clock: Clock;
  readonly config: Pick<Config, 'publicUrl'>;
  readonly spool?: Pick<Spool, 'standing'>;
};

/** Built before the engine wakes, so that the first alarm it lands is in the same hands as the last. */
export const buildWaking = (
  { clock, config: { publicUrl }, spool }: WakingNeeds,
  journal: Journal,
  keeping: () => Keeping,
): Waking =>
  openWaking({
    journal,
    clock,
    site: rulingSite(journal, clock.now()).body.id,
    state: () => keeping().state(),
    tell: (happening) => keeping().tell(happening),
    ...(publicUrl === undefined ? {} : { publicUrl }),
    ...(spool === undefined ? {} : { historyAwaySinceMs: () => spool.standing().sinceMs }),
  });

/** The morning report and its sisters: from the journal, the history and the log together. */
export const reportsOf = (
  journal: Journal,
  keeping: Keeping,
  log: Pick<LogDesk, 'record'>,
  history: Pick<History, 'readings'>,
  { now }: Clock,
  { desk }: Waking,
): Reports =>
  buildReports({
    journal,
    history,
    state: keeping.state,
    now,
    lacks: desk.lacks,
    overdue: () => overdueWork(keeping.state().hatchery.places, lastDone(log.record().ruling.entries), now()),
  });
