import { PRIORITIES, type Priority } from '../conditions/finding.js';

/** A message that waits to be sent to one person by one way. */
export type Waiting = {
  readonly id: string;
  readonly faultId: string;
  readonly atMs: number;
  readonly priority: Priority;
  readonly harmMs?: number;
};

/** What that person was sent that way lately: the faults of a message of its own, or a summary of many. */
export type Sent = { readonly atMs: number; readonly kind: 'single' | 'flood'; readonly faultId?: string };

/** So many faults have a message of their own in ten minutes; more come together in one. Decision of this project. */
const OWN_MESSAGES = 3;
const WINDOW_MS = 10 * 60_000;
/** A summary is not sent more often than this; sooner when something of high priority is in it. */
const FLOOD_GAP_MS: { readonly [priority in Priority]: number } = { high: 60_000, medium: 300_000, low: 300_000 };

const worst = (a: Waiting, b: Waiting): number =>
  PRIORITIES.indexOf(b.priority) - PRIORITIES.indexOf(a.priority) ||
  (a.harmMs ?? Number.MAX_SAFE_INTEGER) - (b.harmMs ?? Number.MAX_SAFE_INTEGER) ||
  a.atMs - b.atMs ||
  (a.id < b.id ? -1 : 1);

export const worstFirst = (waiting: readonly Waiting[]): readonly Waiting[] => [...waiting].sort(worst);

export type Gathered = {
  /** Each its own message, worst first. */
  readonly own: readonly Waiting[];
  /** Together in one message, worst first; empty when there are few, or when it is too soon for the next summary. */
  readonly together: readonly Waiting[];
  /** When those that are neither may be sent. */
  readonly againMs?: number;
};

/** Five hundred findings in a minute are a handful of messages: the worst by themselves, the rest in a summary. */
export const gather = (waiting: readonly Waiting[], sent: readonly Sent[], nowMs: number): Gathered => {
  const lately = sent.filter(({ atMs }) => nowMs - atMs < WINDOW_MS);
  const known = new Set(lately.flatMap(({ faultId }) => (faultId === undefined ? [] : [faultId])));
  const own: Waiting[] = [];
  const rest: Waiting[] = [];
  for (const message of worstFirst(waiting)) {
    const isRoom = known.has(message.faultId) || known.size < OWN_MESSAGES;
    if (isRoom) known.add(message.faultId);
    (isRoom ? own : rest).push(message);
  }
  const [first] = rest;
  if (first === undefined) return { own, together: [] };
  const lastFloodMs = Math.max(...lately.filter(({ kind }) => kind === 'flood').map(({ atMs }) => atMs), -Infinity);
  const againMs = lastFloodMs + FLOOD_GAP_MS[first.priority];
  return againMs <= nowMs ? { own, together: rest } : { own, together: [], againMs };
};
