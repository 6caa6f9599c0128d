import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../rules/answer.js';
import { chamberCount, countNeeded, fieldCount, replicateCount } from '../../rules/husbandry/count.js';
import { degreeDayFit, degreeDaySum } from '../../rules/husbandry/degree-days.js';
import { fastestChange } from '../../rules/husbandry/fastest-change.js';
import {
  conditioningRation,
  feedVolumeL,
  feedVolumeOnBenchSheetL,
  mixedFeed,
  residualEquivalentsMl,
} from '../../rules/husbandry/feed.js';
import { flowFromBucketLMin, turnover, upwellerLoading } from '../../rules/husbandry/flow.js';
import { clearance, grazingForecast } from '../../rules/husbandry/grazing.js';
import { larvalGrowth, specificGrowth } from '../../rules/husbandry/growth.js';
import { coolDown, heatBatch, heatFlowKw, stuckHeater } from '../../rules/husbandry/heating.js';
import { lineAssociation } from '../../rules/husbandry/line-association.js';
import { afterRain, diluteToVolume, evaporation, mixTwoWaters } from '../../rules/husbandry/mixing.js';
import { oxygenDecline } from '../../rules/husbandry/oxygen-decline.js';
import { disinfectantMl, seedByWeight, stockByArea, stockByVolume } from '../../rules/husbandry/stocking.js';
import { deadFraction, mortality, noneDeadFraction } from '../../rules/husbandry/survival.js';
import { canonicalFrom } from '../../rules/quantity.js';
import { ok } from '../../rules/result.js';
import { oxygenMgLFromSaturation } from '../../rules/seawater/oxygen.js';
import { oxygenMeterErrorPct } from '../../rules/seawater/oxygen-meter.js';
import { degreeHours } from '../../rules/statistics/degree-hours.js';

type Case = {
  readonly title: string;
  readonly calculation: string;
  readonly given: never;
  readonly expected?: unknown;
  readonly refusal?: string;
  /** One of the two, unless the case is a refusal. */
  readonly relativeTolerance?: number;
  readonly absoluteTolerance?: number;
  readonly source: string;
  readonly note?: string;
};

const CASES = JSON.parse(
  readFileSync(new URL('../fixtures/bench-calculations.json', import.meta.url), 'utf8'),
) as readonly Case[];

type Exposure = {
  readonly readings: readonly (readonly [hour: number, temperatureC: number])[];
  readonly line: number;
  readonly maxGapH: number;
};

/** The review keeps exposure as degree-hours; the peak is the highest reading. */
const exposureAbove = ({ readings, line, maxGapH }: Exposure) =>
  ok({
    ...degreeHours(
      { line, side: 'above', maxGapMs: maxGapH * 3_600_000 },
      readings.map(([hour, value]) => ({ atMs: hour * 3_600_000, value })),
    ),
    maximum: Math.max(...readings.map(([, value]) => value)),
  });

const oxygenMgLFromUmolL = ({ umolL }: { readonly umolL: readonly number[] }) =>
  ok(umolL.map((value) => canonicalFrom('oxygen-mg-l', 'umol/L', value)));

const CALCULATIONS: Readonly<Record<string, (given: never) => Answer<unknown>>> = {
  afterRain,
  chamberCount,
  clearance,
  conditioningRation,
  coolDown,
  countNeeded,
  deadFraction,
  degreeDayFit,
  degreeDaySum,
  diluteToVolume,
  disinfectantMl,
  evaporation,
  exposureAbove,
  fastestChange,
  feedVolumeL,
  feedVolumeOnBenchSheetL,
  fieldCount,
  flowFromBucketLMin,
  grazingForecast,
  heatBatch,
  heatFlowKw,
  larvalGrowth,
  lineAssociation,
  mixTwoWaters,
  mixedFeed,
  mortality,
  noneDeadFraction,
  oxygenDecline,
  oxygenMeterErrorPct,
  oxygenMgLFromSaturation,
  oxygenMgLFromUmolL,
  replicateCount,
  residualEquivalentsMl,
  seedByWeight,
  specificGrowth,
  stockByArea,
  stockByVolume,
  stuckHeater,
  turnover,
  upwellerLoading,
};

type Within = (expected: number) => number;

/** Every figure named in `expected` is there and within the tolerance; other figures of the answer are not looked at. */
const expectClose = (actual: unknown, expected: unknown, within: Within, path: string): void => {
  if (typeof expected === 'number') {
    expect(typeof actual, path).toBe('number');
    expect(Math.abs(Number(actual) - expected), path).toBeLessThanOrEqual(within(expected));
  } else if (typeof expected === 'object' && expected !== null) {
    expect(typeof actual, path).toBe('object');
    for (const [key, value] of Object.entries(expected)) {
      const found: unknown = Object.entries(actual ?? {}).find(([name]) => name === key)?.[1];
      expectClose(found, value, within, `${path}.${key}`);
    }
  } else {
    expect(actual, path).toBe(expected);
  }
};

describe('The sums of the bench come out as on paper', () => {
  it('there are 48 worked cases, each with its source', () => {
    expect(CASES).toHaveLength(48);
    expect(CASES.filter(({ source }) => source.trim() === '')).toEqual([]);
  });

  for (const {
    title,
    calculation,
    given,
    expected,
    refusal,
    relativeTolerance = 0,
    absoluteTolerance,
    source,
  } of CASES) {
    it(`${title} (${source})`, () => {
      const answer = CALCULATIONS[calculation]?.(given);
      if (answer === undefined) throw new Error(`No calculation is called ${calculation}.`);
      if (refusal !== undefined) {
        expect(answer).toMatchObject({ ok: false, fault: { code: 'impossible', because: refusal } });
        return;
      }
      if (!answer.ok) throw new Error(`No answer: ${JSON.stringify(answer.fault)}`);
      const within: Within = (figure) => absoluteTolerance ?? Math.abs(figure) * relativeTolerance;
      expectClose(answer.value, expected, within, calculation);
    });
  }
});
