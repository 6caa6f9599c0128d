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
] as const;
export type WorkKind = (typeof WORK_KINDS)[number];
export const isWorkKind = (text: string): text is WorkKind => (WORK_KINDS as readonly string[]).includes(text);

export type DeclaredWork = {
  readonly id: string;
  readonly kind: WorkKind;
  readonly placeId: string;
  readonly by: string;
  readonly fromMs: number;
  readonly untilMs: number;
  readonly endedMs?: number;
};
