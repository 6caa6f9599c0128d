import type { LinkChange } from '../intake/delivery.js';
import type { Database } from './database.js';

/** From `fromMs` up to, not including, `toMs`. */
export type TimeSpan = { readonly fromMs: number; readonly toMs: number };

/** When this program was running, and when it had its broker: so that a gap can say whose silence it is. */
export type GatewayRuns = {
  start(nowMs: number): void;
  /** The running one was alive at this time. */
  alive(nowMs: number): void;
  newest(): { readonly startMs: number; readonly aliveMs: number } | undefined;
  /** Only a change is kept. */
  keepLink(change: LinkChange): void;
  link(): LinkChange | undefined;
};

type RunRow = { readonly start_ms: number; readonly alive_ms: number };
type LinkRow = { readonly at_ms: number; readonly broker: LinkChange['broker']; readonly reason: string | null };

export const buildGatewayRuns = (database: Database): GatewayRuns => {
  const start = database.prepare<[number, number]>('INSERT INTO gateway_run (start_ms, alive_ms) VALUES (?, ?)');
  const alive = database.prepare<[number]>(
    'UPDATE gateway_run SET alive_ms = max(alive_ms, ?) WHERE id = (SELECT max(id) FROM gateway_run)',
  );
  const newest = database.prepare<[], RunRow>('SELECT start_ms, alive_ms FROM gateway_run ORDER BY id DESC LIMIT 1');
  const keepLink = database.prepare<[number, string, string | null]>(
    'INSERT INTO link_change (at_ms, broker, reason) VALUES (?, ?, ?)',
  );
  const link = database.prepare<[], LinkRow>('SELECT at_ms, broker, reason FROM link_change ORDER BY id DESC LIMIT 1');
  const newestLink = (): LinkChange | undefined => {
    const row = link.get();
    if (row === undefined) return undefined;
    return { broker: row.broker, atMs: row.at_ms, ...(row.reason === null ? {} : { reason: row.reason }) };
  };
  return {
    start: (nowMs) => {
      start.run(nowMs, nowMs);
    },
    alive: (nowMs) => {
      alive.run(nowMs);
    },
    newest: () => {
      const row = newest.get();
      return row === undefined ? undefined : { startMs: row.start_ms, aliveMs: row.alive_ms };
    },
    keepLink: ({ broker, atMs, reason }) => {
      if (newestLink()?.broker !== broker) keepLink.run(atMs, broker, reason ?? null);
    },
    link: newestLink,
  };
};

export type Downtimes = { readonly gateway: readonly TimeSpan[]; readonly broker: readonly TimeSpan[] };

/** When the gateway did not run, and when it ran without its broker, as far as they touch the span. */
export const prepareDowntimes = (database: Database): ((span: TimeSpan) => Downtimes) => {
  const runs = database.prepare<[number], RunRow>(
    'SELECT start_ms, alive_ms FROM gateway_run WHERE start_ms < ? ORDER BY start_ms, id',
  );
  const links = database.prepare<[number], LinkRow>(
    'SELECT at_ms, broker, reason FROM link_change WHERE at_ms < ? ORDER BY at_ms, id',
  );
  return (span) => {
    const touches = ({ fromMs, toMs }: TimeSpan): boolean => fromMs < span.toMs && toMs > span.fromMs && fromMs < toMs;
    return {
      gateway: betweenRuns(runs.all(span.toMs), span.toMs).filter(touches),
      broker: whileDown(links.all(span.toMs), span.toMs).filter(touches),
    };
  };
};

/** From the last sign of one run to the start of the next; the time before the first run is nobody's downtime. */
const betweenRuns = (runs: readonly RunRow[], endMs: number): readonly TimeSpan[] =>
  runs.flatMap((run, index) => {
    const next = runs[index + 1];
    return next === undefined ? [] : [{ fromMs: run.alive_ms, toMs: Math.min(next.start_ms, endMs) }];
  });

const whileDown = (links: readonly LinkRow[], endMs: number): readonly TimeSpan[] =>
  links.flatMap((link, index) =>
    link.broker === 'up' ? [] : [{ fromMs: link.at_ms, toMs: links[index + 1]?.at_ms ?? endMs }],
  );
