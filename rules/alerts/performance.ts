import { PRIORITIES, type Priority } from '../conditions/finding.js';

/** One activation of an alarm in a log of some hours. Times in ms; absent: did not happen in the log. */
export type Activation = {
  /** Condition and subject: what is the same alarm. */
  readonly tag: string;
  readonly priority: Priority;
  readonly onMs: number;
  readonly acknowledgedMs?: number;
  readonly offMs?: number;
};

/** An alarm that was put aside: shelved, or taken out of service. */
export type Aside = {
  readonly event: 'shelve' | 'out-of-service';
  readonly by?: string;
  readonly reason?: string;
  /** Shelving ends by itself; out of service ends when its owner says so. */
  readonly untilMs?: number;
};

export type Flood = { readonly startMs: number; readonly count: number; readonly peak: number; readonly endMs: number };

/** How the alarms themselves behave, after ISA-18.2 and EEMUA 191 (terms and targets from memory, see the guide). */
export type Performance = {
  readonly alarms: number;
  readonly per10Min: number;
  readonly perHour: number;
  readonly perDay: number;
  readonly mostInClock10Min: number;
  readonly mostInSliding10Min: number;
  readonly share10MinOver10: number;
  readonly shareHoursOver30: number;
  readonly floods: readonly Flood[];
  readonly shareInFlood: number;
  readonly tags: number;
  /** Most frequent first; ties by name. */
  readonly mostFrequent: readonly { readonly tag: string; readonly count: number }[];
  readonly topShare: number;
  readonly topTenShare: number;
  readonly byPriority: { readonly [priority in Priority]: number };
  readonly chattering: readonly string[];
  readonly fleeting: number;
  readonly staleOver24H: readonly string[];
  readonly acknowledged: number;
  readonly neverAcknowledged: number;
  readonly toAcknowledgeMs?: {
    readonly median: number;
    readonly p90: number;
    readonly max: number;
    readonly mean: number;
  };
  readonly shareAcknowledgedIn10Min: number;
  readonly asides: number;
  /** Put aside without a reason, without an owner, or shelved without an end. */
  readonly unauthorisedAsides: number;
};

const MINUTE_MS = 60_000;
const TEN_MS = 10 * MINUTE_MS;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;
/** So short that nobody could act. Decision of the project's pack. */
const FLEETING_MS = 10_000;

/** Windows start at whole multiples from the log's start. `operators`: people who share the alarms. */
export const performanceOf = (
  activations: readonly Activation[],
  {
    fromMs,
    toMs,
    operators = 1,
    asides = [],
  }: {
    readonly fromMs: number;
    readonly toMs: number;
    readonly operators?: number;
    readonly asides?: readonly Aside[];
  },
): Performance => {
  const log = [...activations].sort((a, b) => a.onMs - b.onMs);
  const hours = (toMs - fromMs) / HOUR_MS;
  const tens = windowCounts(log, fromMs, toMs, TEN_MS);
  const hourly = windowCounts(log, fromMs, toMs, HOUR_MS);
  const floods = floodsOf(tens, fromMs);
  const mostFrequent = frequencies(log);
  const answered = log.flatMap(({ onMs, acknowledgedMs }) =>
    acknowledgedMs === undefined ? [] : [acknowledgedMs - onMs],
  );
  const percent = (count: number, of: number): number => (of === 0 ? 0 : (100 * count) / of);
  return {
    alarms: log.length,
    per10Min: log.length / (hours * 6) / operators,
    perHour: log.length / hours / operators,
    perDay: (24 * log.length) / hours / operators,
    mostInClock10Min: Math.max(0, ...tens),
    mostInSliding10Min: mostInSliding(log),
    share10MinOver10: percent(tens.filter((count) => count > 10).length, tens.length),
    shareHoursOver30: percent(hourly.filter((count) => count > 30).length, hourly.length),
    floods,
    shareInFlood: percent(
      floods.reduce((sum, { startMs, endMs }) => sum + endMs - startMs, 0),
      toMs - fromMs,
    ),
    tags: mostFrequent.length,
    mostFrequent,
    topShare: percent(mostFrequent[0]?.count ?? 0, log.length),
    topTenShare: percent(
      mostFrequent.slice(0, 10).reduce((sum, { count }) => sum + count, 0),
      log.length,
    ),
    byPriority: byPriority(log),
    chattering: mostFrequent.map(({ tag }) => tag).filter((tag) => chatters(log.filter((one) => one.tag === tag))),
    fleeting: log.filter(({ onMs, offMs }) => offMs !== undefined && offMs - onMs < FLEETING_MS).length,
    staleOver24H: [...new Set(log.filter(({ onMs, offMs = toMs }) => offMs - onMs > DAY_MS).map(({ tag }) => tag))],
    acknowledged: answered.length,
    neverAcknowledged: log.length - answered.length,
    ...(answered.length === 0 ? {} : { toAcknowledgeMs: spread(answered) }),
    shareAcknowledgedIn10Min: percent(answered.filter((ms) => ms <= TEN_MS).length, log.length),
    asides: asides.length,
    unauthorisedAsides: asides.filter(isUnauthorised).length,
  };
};

const isUnauthorised = ({ event, by = '', reason = '', untilMs }: Aside): boolean =>
  by.trim() === '' || reason.trim() === '' || (event === 'shelve' && untilMs === undefined);

const windowCounts = (
  log: readonly Activation[],
  fromMs: number,
  toMs: number,
  lengthMs: number,
): readonly number[] => {
  const counts = Array.from({ length: Math.ceil((toMs - fromMs) / lengthMs) }, () => 0);
  for (const { onMs } of log) {
    const index = Math.floor((onMs - fromMs) / lengthMs);
    counts[index] = (counts[index] ?? 0) + 1;
  }
  return counts;
};

/** Largest count in any (t − 10 min, t] with t an activation. */
const mostInSliding = (log: readonly Activation[]): number =>
  Math.max(0, ...log.map(({ onMs }) => log.filter((other) => other.onMs > onMs - TEN_MS && other.onMs <= onMs).length));

/** Begins with the first window of more than 10, ends at the start of the first later one of fewer than 5. */
const floodsOf = (tens: readonly number[], fromMs: number): readonly Flood[] => {
  const floods: Flood[] = [];
  let open: { startMs: number; count: number; peak: number } | undefined;
  for (const [index, count] of [...tens, 0].entries()) {
    const atMs = fromMs + index * TEN_MS;
    if (open !== undefined && count < 5) {
      floods.push({ ...open, endMs: atMs });
      open = undefined;
    } else if (open !== undefined) {
      open = { ...open, count: open.count + count, peak: Math.max(open.peak, count) };
    } else if (count > 10) open = { startMs: atMs, count, peak: count };
  }
  return floods;
};

const frequencies = (log: readonly Activation[]): Performance['mostFrequent'] => {
  const counts = new Map<string, number>();
  for (const { tag } of log) counts.set(tag, (counts.get(tag) ?? 0) + 1);
  return [...counts]
    .map(([tag, count]) => ({ tag, count }))
    .sort((a, b) => b.count - a.count || (a.tag < b.tag ? -1 : 1));
};

const byPriority = (log: readonly Activation[]): Performance['byPriority'] => {
  const counts = { low: 0, medium: 0, high: 0 };
  for (const priority of PRIORITIES) counts[priority] = log.filter((one) => one.priority === priority).length;
  return counts;
};

/** Third minus first within 60 s. */
const chatters = (log: readonly Activation[]): boolean =>
  log.some(({ onMs }, index) => {
    const third = log[index + 2];
    return third !== undefined && third.onMs - onMs <= MINUTE_MS;
  });

/** Percentiles by nearest rank: element ceil(p × n / 100) of the sorted list. */
const spread = (lengths: readonly number[]): NonNullable<Performance['toAcknowledgeMs']> => {
  const sorted = [...lengths].sort((a, b) => a - b);
  const rank = (p: number): number => sorted[Math.ceil((p * sorted.length) / 100) - 1] ?? 0;
  const sum = sorted.reduce((total, length) => total + length, 0);
  return { median: rank(50), p90: rank(90), max: rank(100), mean: sum / sorted.length };
};

/** Alarms that were true at a moment, and those that nobody had acknowledged by then. */
export const standingAt = (log: readonly Activation[], atMs: number) => ({
  standing: log.filter(({ onMs, offMs = Infinity }) => onMs <= atMs && atMs < offMs).length,
  unacknowledged: log.filter(({ onMs, acknowledgedMs = Infinity }) => onMs <= atMs && acknowledgedMs > atMs).length,
});
