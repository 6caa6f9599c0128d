import { recipeBandFlag } from './climatology.js';
import { FLAG, type Flag, isInside } from './flag.js';
import { type FlatRun, flatRunFlag, stepFlatRun } from './flat-run.js';
import { grossRangeFlag } from './gross-range.js';
import { flagsFromVerdict, flagsWithTest, rolledUp, verdictFromFlags } from './packed.js';
import { type RateBases, stepRate } from './rate-of-change.js';
import type { QualitySettings } from './settings.js';
import { type Stamped, tankSpikeFlag } from './spike.js';
import {
  type BadReason,
  MISSING,
  makeVerdict,
  type QualityTest,
  type TestFlag,
  type TestFlags,
  type Verdict,
} from './verdict.js';

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
};

export const freshMemory: QualityMemory = { newestFlags: 0, bases: [] };

/** The spike verdict of the reading before, told once. `isOtherFlag`: the roll-up is not what it was. */
export type Revision = { readonly atMs: number; readonly verdict: Verdict; readonly isOtherFlag: boolean };

export type Judgement = { readonly memory: QualityMemory; readonly verdict: Verdict; readonly revision?: Revision };

const NEIGHBOUR_PERIODS = 3;
const NO_BASES: RateBases = [];

/**
 * Judges one reading of one probe and remembers it. Readings come in the order of their times; one that does not is
 * judged by itself and not remembered. Takes any number: what is no number is missing. Never waits: the spike of a
 * reading is told with the next one.
 */
export const judgeReading = (memory: QualityMemory, reading: JudgedReading, settings: QualitySettings): Judgement => {
  const { atMs, value } = reading;
  if (!Number.isFinite(value)) return { memory, verdict: MISSING };
  const by: TestFlags = { syntax: FLAG.pass, date: reading.stampRefused === true ? FLAG.fail : FLAG.pass };
  const bad = judgeAlone(by, reading, settings);
  if (memory.newest !== undefined && atMs <= memory.newest.atMs) {
    if (isVariant(memory.newest, reading) && by.date === FLAG.pass) by.date = FLAG.suspect;
    return { memory, verdict: makeVerdict(by, bad) };
  }
  if (bad !== undefined) return { memory, verdict: makeVerdict(by, bad) };
  return judgeInTurn(memory, { atMs, value }, by, settings);
};

/** The tests that need no other reading, written into `by`; a fault value goes before everything else. */
const judgeAlone = (by: TestFlags, reading: JudgedReading, settings: QualitySettings): BadReason | undefined => {
  if (settings.faultValues.includes(reading.uncorrected ?? reading.value)) {
    by['gross-range'] = FLAG.fail;
    return 'fault-value';
  }
  keep(by, 'gross-range', grossRangeFlag(reading.value, settings));
  if (!isInside(settings.sensorSpan, reading.value)) return 'sensor-span';
  keep(by, 'climatology', recipeBandFlag(reading.value, settings.recipeBand));
  return undefined;
};

/** The tests against the readings before, and the memory with this one in it. */
const judgeInTurn = (memory: QualityMemory, newest: Stamped, by: TestFlags, settings: QualitySettings): Judgement => {
  const { rate, flat } = settings;
  const rated = rate === undefined ? undefined : stepRate(memory.bases, newest, rate);
  if (rated !== undefined) keep(by, 'rate-of-change', rated.flag);
  const flatRun = flat === undefined ? undefined : stepFlatRun(memory.flatRun, newest, flat, settings.periodMs);
  if (flat !== undefined && flatRun !== undefined) keep(by, 'flat-line', flatRunFlag(flatRun, flat));
  const verdict = makeVerdict(by, by['flat-line'] === FLAG.fail ? 'stuck' : undefined);
  const revision = revise(memory, newest, settings);
  const next: QualityMemory = {
    before: memory.newest,
    newest,
    newestFlags: flagsFromVerdict(verdict),
    bases: rated?.bases ?? NO_BASES,
    flatRun,
  };
  return revision === undefined ? { memory: next, verdict } : { memory: next, verdict, revision };
};

/** The verdict of the reading before with its spike test, now that its successor is there. */
const revise = (
  { before, newest, newestFlags }: QualityMemory,
  after: Stamped,
  { spike, periodMs }: QualitySettings,
): Revision | undefined => {
  if (spike === undefined || before === undefined || newest === undefined) return undefined;
  const flag = tankSpikeFlag(before, newest, after, spike, NEIGHBOUR_PERIODS * periodMs);
  if (!hasRun(flag)) return undefined;
  const flags = flagsWithTest(newestFlags, 'spike', flag);
  return {
    atMs: newest.atMs,
    verdict: verdictFromFlags(flags),
    isOtherFlag: rolledUp(flags) !== rolledUp(newestFlags),
  };
};

/** Another value at the same moment: both are kept, and the later one is suspect. */
const isVariant = (newest: Stamped, { atMs, value }: JudgedReading): boolean =>
  atMs === newest.atMs && value !== newest.value;

const keep = (by: TestFlags, test: QualityTest, flag: Flag): void => {
  if (hasRun(flag)) by[test] = flag;
};

const hasRun = (flag: Flag): flag is TestFlag => flag !== FLAG.notEvaluated && flag !== FLAG.missing;

// The judge's contract with the engine stands together here.
export { defaultQualitySettings } from './default-settings.js';
export type { QualitySettings } from './settings.js';
export type { Verdict } from './verdict.js';
