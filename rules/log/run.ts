import { type Entry, isKind } from './entry.js';
import type { Phase } from './kinds/run.js';
import type { Tally } from './tally.js';
import { tallyOf } from './tally.js';

const MINUTE_MS = 60_000;

/** A hold that is so much longer than planned was forgotten. Source: common practice, no source. */
export const HOLD_GRACE_MIN = 15;
/** How far ahead a crossing of the ceiling is announced, minutes. Common practice, no source. */
export const CEILING_AHEAD_MIN = 10;
/** Nobody has touched the run for so long: is someone there? Common practice, no source. */
export const UNTOUCHED_MIN = 30;

export type RunPhase = {
  readonly phase: Phase;
  readonly fromMs: number;
  readonly toMs?: number;
  /** Seen in the trace, not told by a person. */
  readonly recognised: boolean;
  readonly reachedC?: number;
};

/** One spawning run as far as it has come. */
export type SpawningRun = {
  readonly id: string;
  readonly placeId: string;
  readonly plan: Entry<'run-plan'>['fields'];
  readonly startedMs: number;
  readonly phases: readonly RunPhase[];
  readonly spawners: readonly Entry<'run-spawner'>[];
  readonly eggs: readonly (Entry<'run-eggs'> & { readonly tally?: Tally })[];
  readonly ended?: Entry<'run-end'>;
  /** Who was there. */
  readonly people: readonly string[];
  readonly touchedMs: number;
};

/** The run of that name from the ruling entries; undefined when it was never planned, or taken back. */
export const spawningRun = (
  id: string,
  entries: readonly Entry[],
  nameOf: (entryId: string) => string = (own) => own,
): SpawningRun | undefined => {
  const plan = entries.find((entry) => isKind(entry, 'run-plan') && nameOf(entry.id) === id);
  if (plan === undefined || !isKind(plan, 'run-plan') || plan.placeId === undefined) return undefined;
  const own = entries.filter((entry) => belongsTo(entry, id));
  const ended = own.filter((entry) => isKind(entry, 'run-end')).at(-1);
  const byHand = own.filter((entry) => !(isKind(entry, 'run-phase') && entry.fields.recognised === true));
  return {
    id,
    placeId: plan.placeId,
    plan: plan.fields,
    startedMs: plan.atMs,
    phases: phasesOf(
      own.filter((entry) => isKind(entry, 'run-phase')),
      ended?.atMs,
    ),
    spawners: own.filter((entry) => isKind(entry, 'run-spawner')),
    eggs: own.filter((entry) => isKind(entry, 'run-eggs')).map(counted),
    ...(ended === undefined ? {} : { ended }),
    people: [...new Set([plan, ...byHand].map(({ initials, by }) => initials ?? by))],
    touchedMs: Math.max(plan.atMs, ...byHand.map(({ atMs }) => atMs)),
  };
};

const belongsTo = (entry: Entry, id: string): boolean =>
  isKind(entry, 'run-phase', 'run-spawner', 'run-eggs', 'run-end') && entry.fields.runId === id;

const counted = (entry: Entry<'run-eggs'>): SpawningRun['eggs'][number] => {
  const tally = tallyOf(entry.fields.count);
  return tally.ok ? { ...entry, tally: tally.value } : entry;
};

/** Each phase ends where the next begins. A phase told by a person goes before the same one seen in the trace. */
const phasesOf = (told: readonly Entry<'run-phase'>[], endMs: number | undefined): readonly RunPhase[] => {
  const changes = told.filter((entry, n) => told[n - 1]?.fields.phase !== entry.fields.phase);
  return changes.map(({ atMs: fromMs, fields: { phase, recognised = false, reachedC } }, n) => {
    const toMs = changes[n + 1]?.atMs ?? endMs;
    return {
      phase,
      fromMs,
      recognised,
      ...(toMs === undefined ? {} : { toMs }),
      ...(reachedC === undefined ? {} : { reachedC }),
    };
  });
};

export const peakC = ({ plan: { ambientC, riseC } }: Pick<SpawningRun, 'plan'>): number => ambientC + riseC;

/** What the plan wants of a phase, °C. */
export const plannedC = (run: Pick<SpawningRun, 'plan'>, phase: Phase): number =>
  phase === 'ambient' ? run.plan.ambientC : phase === 'warm' ? peakC(run) : run.plan.coolC;

/** A run at a moment, beside its plan. Minutes, °C, °C per minute. */
export type RunNow = {
  readonly phase: RunPhase | undefined;
  readonly inPhaseMin: number;
  /** Of the hold; negative when it is over. The ambient phase is held as long as it takes. */
  readonly leftMin?: number;
  readonly cyclesDone: number;
  readonly offPlanC?: number;
  readonly toCeilingC?: number;
  /** At the present ramp; undefined where it does not rise. */
  readonly ceilingInMin?: number;
  readonly calls: readonly ('ceiling-near' | 'hold-too-long' | 'past-latest-end' | 'nobody-there' | 'cycles-done')[];
};

export type TrayNow = { readonly temperatureC?: number; readonly rampCMin?: number };

export const runNow = (run: SpawningRun, nowMs: number, { temperatureC, rampCMin }: TrayNow): RunNow => {
  const phase = run.phases.at(-1);
  const inPhaseMin = (nowMs - (phase?.fromMs ?? run.startedMs)) / MINUTE_MS;
  const isHeld = phase !== undefined && phase.phase !== 'ambient';
  const leftMin = isHeld ? run.plan.holdMin - inPhaseMin : undefined;
  const cyclesDone = run.phases.filter(({ phase: kind, toMs }) => kind === 'warm' && toMs !== undefined).length;
  const toCeilingC = temperatureC === undefined ? undefined : run.plan.ceilingC - temperatureC;
  const rises = rampCMin !== undefined && rampCMin > 0 && toCeilingC !== undefined;
  const ceilingInMin = rises ? Math.max(0, toCeilingC / rampCMin) : undefined;
  const calls: RunNow['calls'][number][] = [];
  if (run.ended === undefined) {
    if (ceilingInMin !== undefined && ceilingInMin <= CEILING_AHEAD_MIN) calls.push('ceiling-near');
    if (leftMin !== undefined && leftMin < -HOLD_GRACE_MIN) calls.push('hold-too-long');
    if (nowMs >= run.plan.latestEndMs) calls.push('past-latest-end');
    if (nowMs - run.touchedMs > UNTOUCHED_MIN * MINUTE_MS) calls.push('nobody-there');
    if (cyclesDone >= run.plan.cycles) calls.push('cycles-done');
  }
  return {
    phase,
    inPhaseMin,
    cyclesDone,
    calls,
    ...(leftMin === undefined ? {} : { leftMin }),
    ...(temperatureC === undefined || phase === undefined
      ? {}
      : { offPlanC: temperatureC - plannedC(run, phase.phase) }),
    ...(toCeilingC === undefined ? {} : { toCeilingC }),
    ...(ceilingInMin === undefined ? {} : { ceilingInMin }),
  };
};
