import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type AttenuatedLines, attenuatedFlags } from '../../rules/quality/attenuated.js';
import { climatologyFlags, type SeasonalSpan } from '../../rules/quality/climatology.js';
import { impossibleDateFlags } from '../../rules/quality/date.js';
import { FLAG, type Flag, rollUp, type Series, type Span, screenRollUp } from '../../rules/quality/flag.js';
import { type FlatLines, flatLineFlags } from '../../rules/quality/flat-line.js';
import type { FlatSettings } from '../../rules/quality/flat-run.js';
import { receptionFlags, timeGapFlags } from '../../rules/quality/gap.js';
import { type GrossRange, grossRangeFlags } from '../../rules/quality/gross-range.js';
import { freshMemory, judgeReading, type QualitySettings } from '../../rules/quality/judge.js';
import { gapFlag, lateness } from '../../rules/quality/late.js';
import { freshNeighbourMemory, type NeighbourSettings, stepNeighbour } from '../../rules/quality/neighbour.js';
import { freshWaterMemory, stepWater, type WaterSettings, waterFlag } from '../../rules/quality/out-of-water.js';
import { type RateSettings, rateOfChangeFlags } from '../../rules/quality/rate-of-change.js';
import { type SpikeLines, type SpikeMethod, spikeFlags } from '../../rules/quality/spike.js';
import { type RecordShape, syntaxFlags } from '../../rules/quality/syntax.js';
import { flagOf, type QualityTest } from '../../rules/quality/verdict.js';

/** The file names its sources; `settings` is what the rule of the case takes, in our own form. */
type Case = {
  readonly name: string;
  readonly rule: string;
  readonly settings: unknown;
  readonly values?: readonly (number | string | null)[];
  readonly other?: readonly (number | null)[];
  readonly atMs?: readonly (number | null)[];
  readonly rows?: readonly (readonly Flag[])[];
  readonly flags: readonly Flag[];
  readonly source: string;
};

const file = new URL('../fixtures/qartod.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Case[] };

const numbers = (list: Case['values']): Series =>
  (list ?? []).map((each) => (typeof each === 'number' ? each : undefined));
const stamps = ({ atMs }: Case): number[] => numbers(atMs).filter((stamp) => stamp !== undefined);
const columns = ({ rows = [] }: Case): Flag[][] => (rows[0] ?? []).map((_, n) => rows.flatMap((row) => row[n] ?? []));

const BARE: QualitySettings = { periodMs: 10_000, resolution: 0.1, sensorSpan: [-1e9, 1e9], faultValues: [] };

/** A series through the judge of the hot path, one reading after the other; a missing value never reaches it. */
const streamed = (each: Case, test: QualityTest, lines: Partial<QualitySettings>): Flag[] => {
  let memory = freshMemory;
  return numbers(each.values).map((value, n) => {
    if (value === undefined) return FLAG.missing;
    const judged = judgeReading(memory, { atMs: stamps(each)[n] ?? 0, value }, { ...BARE, ...lines });
    memory = judged.memory;
    return flagOf(judged.verdict, test);
  });
};

const water = (each: Case): Flag[] => {
  let memory = freshWaterMemory;
  return numbers(each.values).map((salinity = Number.NaN, n) => {
    const step = stepWater(memory, { atMs: stamps(each)[n] ?? 0, salinity }, each.settings as WaterSettings);
    memory = step.memory;
    return waterFlag[step.state];
  });
};

const neighbours = (each: Case): Flag[] => {
  const sisters = numbers(each.other);
  let memory = freshNeighbourMemory;
  return numbers(each.values).map((value, n) => {
    const readings = { atMs: stamps(each)[n] ?? 0, value, sister: sisters[n] };
    const step = stepNeighbour(memory, readings, each.settings as NeighbourSettings);
    memory = step.memory;
    return step.flag;
  });
};

const late = (each: Case): Flag[] => {
  const { lastMs, periodMs } = each.settings as { readonly lastMs: number; readonly periodMs: number };
  return stamps(each).map((nowMs) => gapFlag[lateness(nowMs - lastMs, periodMs)]);
};

const screen = (each: Case): Flag[] => {
  const { requiredRows } = each.settings as { readonly requiredRows: readonly number[] };
  const isRequired = (row: number) => requiredRows.includes(row);
  return columns(each).map((flags) =>
    screenRollUp(
      flags.filter((_, row) => isRequired(row)),
      flags.filter((_, row) => !isRequired(row)),
    ),
  );
};

const RUN: Readonly<Record<string, (each: Case) => Flag[]>> = {
  'gross-range': (each) => grossRangeFlags(numbers(each.values), each.settings as GrossRange),
  spike: (each) => spikeFlags(numbers(each.values), each.settings as SpikeLines & { method: SpikeMethod }),
  'rate-of-change': (each) =>
    rateOfChangeFlags(numbers(each.values), stamps(each), each.settings as { suspectPerSecond: number }),
  'flat-line': (each) => flatLineFlags(numbers(each.values), stamps(each), each.settings as FlatLines),
  attenuated: (each) => attenuatedFlags(numbers(each.values), stamps(each), each.settings as AttenuatedLines),
  climatology: (each) =>
    climatologyFlags(numbers(each.values), stamps(each), each.settings as { members: readonly SeasonalSpan[] }),
  'roll-up': (each) => columns(each).map(rollUp),
  'time-gap': (each) => timeGapFlags(numbers(each.atMs), each.settings as { limitMs: number }),
  reception: (each) => receptionFlags(numbers(each.atMs), each.settings as { limitMs: number; nowMs: number }),
  date: (each) => impossibleDateFlags(numbers(each.atMs), each.settings as { span: Span }),
  syntax: (each) => syntaxFlags((each.values ?? []).map(String), each.settings as RecordShape),
  'tank-rate': (each) => streamed(each, 'rate-of-change', { rate: each.settings as RateSettings }),
  'tank-flat': (each) => streamed(each, 'flat-line', { flat: each.settings as FlatSettings }),
  'tank-late': late,
  'tank-water': water,
  'tank-neighbour': neighbours,
  'screen-roll-up': screen,
};

const isTank = ({ rule }: Case) => rule.startsWith('tank-') || rule === 'screen-roll-up';

describe('the quality tests of whole series flag as the IOOS QARTOD reference implementation does', () => {
  test.each(cases.filter((each) => !isTank(each)))('$name ($rule; $source)', (each) => {
    expect(RUN[each.rule]?.(each)).toEqual(each.flags);
  });
});

describe('the quality tests of a tank flag as worked out by hand (common practice, no source)', () => {
  test.each(cases.filter(isTank))('$name ($rule)', (each) => {
    expect(RUN[each.rule]?.(each)).toEqual(each.flags);
  });
});

test('all 83 check cases are there, 75 of the reference and 8 of the tank', () => {
  expect([cases.filter((each) => !isTank(each)).length, cases.filter(isTank).length]).toEqual([75, 8]);
});
