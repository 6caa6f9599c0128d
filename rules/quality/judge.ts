import { recipeBandFlag } from './climatology.js';
import { FLAG, isInside } from './flag.js';
import { type FlatRun, flatRunFlag, stepFlatRun } from './flat-run.js';
import { grossRangeFlag } from './gross-range.js';
import {
  badIn,
  flagsFromTests,
  flagsFromVerdict,
  flagsWithTest,
  rolledUp,
  testBits,
  testIn,
  testsIn,
  verdictFromFlags,
} from './packed.js';
import { type RateBases, stepRate } from './rate-of-change.js';
import type { QualitySettings } from './settings.js';
import { type Stamped, tankSpikeFlag } from './spike.js';
import { type BadReason, MISSING, type Verdict } from './verdict.js';

/** One reading as its probe's judge sees it. */
export type JudgedReading = {
  /** The time it counts at, UTC ms: the board's stamp, or the arrival where that was refused. */
  readonly atMs: number;
  /** In the canonical unit of the quantity. */
  readonly value: number;
  /** The value before its calibration, where one stands between: fault values are looked for in it. Canonical unit. */
  readonly uncorrected?: number | undefined;
  readonly stampRefused?: boolean | undefined;
};

/**
 * The recent past of one probe: plain JSON, never changed in place, of a size that does not grow. Only values that can
 * be water are remembered; `newestFlags` is the verdict of the newest (packed), to be revised by its successor.
 */
export type QualityMemory = {
  readonly before?: Stamped | undefined;
  readonly newest?: Stamped | undefined;
  readonly newestFlags: number;
  readonly bases: RateBases;
  readonly flatRun?: FlatRun | undefined;
  /** The newest readings are the nothing of a probe that has died. */
  readonly isDead?: boolean | undefined;
};

export const freshMemory: QualityMemory = { newestFlags: 0, bases: [] };

/** The spike verdict of the reading before, told once. `isOtherFlag`: the roll-up is not what it was. */
export type Revision = { readonly atMs: number; readonly verdict: Verdict; readonly isOtherFlag: boolean };

export type Judgement = { readonly memory: QualityMemory; readonly verdict: Verdict; readonly revision?: Revision };

/** The same with the verdicts packed, as the engine and the journal take them. */
export type PackedJudgement = {
  readonly memory: QualityMemory;
  readonly flags: number;
  /** The verdict on the reading before with its spike test, and when that was. */
  readonly revised: { readonly atMs: number; readonly flags: number } | undefined;
};

const NEIGHBOUR_PERIODS = 3;
const NO_BASES: RateBases = [];
const MISSING_FLAGS = flagsFromVerdict(MISSING);

/** `judgePacked` with its verdicts unpacked, to be read by people. */
export const judgeReading = (memory: QualityMemory, reading: JudgedReading, settings: QualitySettings): Judgement => {
  const { memory: after, flags, revised } = judgePacked(memory, reading, settings);
  const verdict = flags === MISSING_FLAGS ? MISSING : verdictFromFlags(flags);
  if (revised === undefined) return { memory: after, verdict };
  const isOtherFlag = rolledUp(revised.flags) !== rolledUp(memory.newestFlags);
  return {
    memory: after,
    verdict,
    revision: { atMs: revised.atMs, verdict: verdictFromFlags(revised.flags), isOtherFlag },
  };
};

/**
 * Judges one reading of one probe and remembers it. Readings come in the order of their times; one that does not is
 * judged by itself and not remembered. Takes any number: what is no number is missing. Never waits: the spike of a
 * reading is told with the next one.
 */
export const judgePacked = (
  memory: QualityMemory,
  reading: JudgedReading,
  settings: QualitySettings,
): PackedJudgement => {
  const { atMs, value } = reading;
  if (!Number.isFinite(value)) return { memory, flags: MISSING_FLAGS, revised: undefined };
  const alone = judgeAlone(reading, settings);
  const bad = badIn(alone);
  const { newest } = memory;
  if (isDead(memory, reading, settings))
    return {
      memory: memory.isDead === true ? memory : { ...memory, isDead: true },
      flags: DEAD_FLAGS,
      revised: undefined,
    };
  if (newest !== undefined && atMs <= newest.atMs) {
    const isSuspect = isVariant(newest, reading) && testIn(alone, 'date') === FLAG.pass;
    return { memory, flags: isSuspect ? flagsWithTest(alone, 'date', FLAG.suspect) : alone, revised: undefined };
  }
  return bad === undefined
    ? judgeInTurn(memory, { atMs, value }, alone, settings)
    : { memory, flags: alone, revised: undefined };
};

const SYNTAX_PASSED = testBits('syntax', FLAG.pass);
const DEAD_FLAGS = flagsFromTests(
  SYNTAX_PASSED | testBits('date', FLAG.pass) | testBits('gross-range', FLAG.fail),
  'fault-value',
);

/**
 * Exactly nothing, all at once, from a value that no water falls from within three periods; and then for as long as it
 * stays exactly nothing. Oxygen that is used up, or a probe slowly buried, passes through what lies between.
 */
const isDead = (
  { newest, isDead: wasDead }: QualityMemory,
  { atMs, value, uncorrected = value }: JudgedReading,
  { deadFrom, periodMs }: QualitySettings,
): boolean => {
  if (deadFrom === undefined || uncorrected !== 0) return false;
  if (wasDead === true) return true;
  return newest !== undefined && newest.value >= deadFrom && atMs - newest.atMs <= NEIGHBOUR_PERIODS * periodMs;
};

/** The tests that need no other reading; a fault value goes before everything else. */
const judgeAlone = (reading: JudgedReading, settings: QualitySettings): number => {
  const tests = SYNTAX_PASSED | testBits('date', reading.stampRefused === true ? FLAG.fail : FLAG.pass);
  if (settings.faultValues.includes(reading.uncorrected ?? reading.value))
    return flagsFromTests(tests | testBits('gross-range', FLAG.fail), 'fault-value');
  const ranged = tests | testBits('gross-range', grossRangeFlag(reading.value, settings));
  if (!isInside(settings.sensorSpan, reading.value)) return flagsFromTests(ranged, 'sensor-span');
  return flagsFromTests(
    ranged | testBits('climatology', recipeBandFlag(reading.value, settings.recipeBand)),
    undefined,
  );
};

/** The tests against the readings before, and the memory with this one in it. */
const judgeInTurn = (
  memory: QualityMemory,
  newest: Stamped,
  alone: number,
  settings: QualitySettings,
): PackedJudgement => {
  const { rate, flat } = settings;
  const rated = rate === undefined ? undefined : stepRate(memory.bases, newest, rate);
  const flatRun = flat === undefined ? undefined : stepFlatRun(memory.flatRun, newest, flat, settings.periodMs);
  const flatness = flat === undefined || flatRun === undefined ? FLAG.notEvaluated : flatRunFlag(flatRun, flat);
  const rating = rated === undefined ? FLAG.notEvaluated : rated.flag;
  const bad: BadReason | undefined = flatness === FLAG.fail ? 'stuck' : undefined;
  const tests = testsIn(alone) | testBits('rate-of-change', rating) | testBits('flat-line', flatness);
  const flags = flagsFromTests(tests, bad);
  const bases = rated?.bases ?? NO_BASES;
  return {
    memory: { before: memory.newest, newest, newestFlags: flags, bases, flatRun },
    flags,
    revised: revise(memory, newest, settings),
  };
};

/** The verdict of the reading before with its spike test, now that its successor is there. */
const revise = (
  { before, newest, newestFlags }: QualityMemory,
  after: Stamped,
  { spike, periodMs }: QualitySettings,
): PackedJudgement['revised'] => {
  if (spike === undefined || before === undefined || newest === undefined) return undefined;
  const flag = tankSpikeFlag(before, newest, after, spike, NEIGHBOUR_PERIODS * periodMs);
  if (flag === FLAG.notEvaluated || flag === FLAG.missing) return undefined;
  return { atMs: newest.atMs, flags: flagsWithTest(newestFlags, 'spike', flag) };
};

/** Another value at the same moment: both are kept, and the later one is suspect. */
const isVariant = (newest: Stamped, { atMs, value }: JudgedReading): boolean =>
  atMs === newest.atMs && value !== newest.value;

// The judge's contract with the engine stands together here.
export { defaultQualitySettings } from './default-settings.js';
export type { QualitySettings } from './settings.js';
export type { Verdict } from './verdict.js';
