/** Declared work: one tap, replaces exactly the rules it must, ends by itself. */
export const WORK_KINDS = [
  'drain-down',
  'water-change',
  'feeding-flow-off',
  'filling',
  'probe-service',
  'bed-cleaning',
  'disinfection',
  'spawning-run',
  'intake-closed',
  'standby-test',
  'resting',
  /** Somebody is there alone, and is looked for when the time is over. */
  'alone',
] as const;
export type WorkKind = (typeof WORK_KINDS)[number];
export const isWorkKind = (text: string): text is WorkKind => (WORK_KINDS as readonly string[]).includes(text);

/** A spawning run as planned: where the warm phase ends, and where its warm water comes from. */
export type RunPlan = {
  readonly peakC: number;
  /** A place with a temperature channel: the hot supply. */
  readonly hotSupplyId?: string;
  /** Its temperature where no probe says it. */
  readonly hotSupplyC?: number;
  /** How far the tray's probe is behind the water, seconds. */
  readonly probeLagS?: number;
};

export type DeclaredWork = {
  readonly id: string;
  readonly kind: WorkKind;
  readonly placeId: string;
  readonly by: string;
  readonly fromMs: number;
  /** Ends by itself here: from then on every rule stands again, and the work rings until somebody says it is done. */
  readonly untilMs: number;
  readonly endedMs?: number;
  readonly run?: RunPlan;
};

/** Work that comes back: what is due, and when it was last done, is told by the log. */
export const TASKS = ['water-change', 'bed-cleaning', 'feeding', 'count', 'probe-service'] as const;
export type Task = (typeof TASKS)[number];
export const isTask = (text: string): text is Task => (TASKS as readonly string[]).includes(text);

/** Declared, begun, not ended and not over its time: its rules stand aside now. The end belongs to the time after it. */
export const isUnderWay = ({ fromMs, untilMs, endedMs }: DeclaredWork, atMs: number): boolean =>
  endedMs === undefined && fromMs <= atMs && atMs < untilMs;

/** Over its time, and nobody has said that it is done. */
export const isLeftOpen = ({ untilMs, endedMs }: DeclaredWork, atMs: number): boolean =>
  endedMs === undefined && untilMs <= atMs;
