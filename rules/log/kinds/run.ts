import { animals, atMs, batchId, count, line, placeId, sharePct, temperatureC, ulid } from '../common.js';
import { choice, fieldsOf, flag, maybe, number, text, whole } from '../field.js';

export const PHASES = ['ambient', 'warm', 'cool'] as const;
export type Phase = (typeof PHASES)[number];
export const SEXES = ['male', 'female', 'both', 'unknown'] as const;
export const RUN_ENDS = ['enough-spawned', 'cycles-done', 'ceiling', 'signs-of-stress', 'not-ripe', 'other'] as const;

/** A spawning run, from its plan to its end. The run's name is the id of the entry that planned it. */
export const RUN_KINDS = {
  'run-plan': fieldsOf({
    batchId: maybe(batchId),
    animals: whole(1, 100_000, 'animals'),
    ambientC: temperatureC,
    coolC: temperatureC,
    /** A difference: ten degrees Fahrenheit are five and a half of these. */
    riseC: number(0, 30, 'K'),
    holdMin: number(1, 240, 'min'),
    cycles: whole(1, 20, ''),
    ceilingC: temperatureC,
    latestEndMs: atMs,
    /** Where the warm water comes from, or how warm it is where no probe says it. */
    hotSupplyId: maybe(placeId),
    hotSupplyC: maybe(temperatureC),
    /** Why this run may plan beyond the ceiling. */
    argument: maybe(text(1000)),
    conditioningDays: maybe(number(0, 1000, 'd')),
  }),
  'run-phase': fieldsOf({ runId: ulid, phase: choice(PHASES), reachedC: maybe(temperatureC), recognised: maybe(flag) }),
  'run-spawner': fieldsOf({ runId: ulid, animal: text(20), sex: choice(SEXES), vessel: maybe(text(40)) }),
  'run-eggs': fieldsOf({
    runId: ulid,
    count,
    females: maybe(whole(1, 1000, 'animals')),
    fertilisedPct: maybe(sharePct),
    to: maybe(placeId),
  }),
  'run-end': fieldsOf({ runId: ulid, why: choice(RUN_ENDS), notSpawned: maybe(animals), words: maybe(line) }),
} as const;
