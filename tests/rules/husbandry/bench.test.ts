import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../../rules/answer.js';
import { poissonInterval95, studentT95, wilsonInterval95 } from '../../../rules/husbandry/confidence.js';
import { chamberCount, replicateCount } from '../../../rules/husbandry/count.js';
import { degreeDayFit, degreeDaySum } from '../../../rules/husbandry/degree-days.js';
import { fastestChange } from '../../../rules/husbandry/fastest-change.js';
import { feedVolumeL, feedVolumeOnBenchSheetL, mixedFeed } from '../../../rules/husbandry/feed.js';
import { turnover } from '../../../rules/husbandry/flow.js';
import { logFactorial } from '../../../rules/husbandry/gamma.js';
import { clearance, grazingForecast } from '../../../rules/husbandry/grazing.js';
import { larvalGrowth, specificGrowth } from '../../../rules/husbandry/growth.js';
import { coolDown, heatBatch, stuckHeater } from '../../../rules/husbandry/heating.js';
import { lineAssociation } from '../../../rules/husbandry/line-association.js';
import { oxygenDecline } from '../../../rules/husbandry/oxygen-decline.js';
import { seedByWeight, stockByVolume } from '../../../rules/husbandry/stocking.js';
import { deadFraction, mortality, survivalFraction } from '../../../rules/husbandry/survival.js';
import { refusalSentence } from '../../../rules/words/refusal.js';

const SEED = 20_260_301;

const value = <T>(answer: Answer<T>): T => {
  if (!answer.ok) throw new Error(refusalSentence(answer.fault));
  return answer.value;
};

const why = (answer: Answer<unknown>): string | undefined =>
  answer.ok || answer.fault.code !== 'impossible' ? undefined : answer.fault.because;

describe('Feeding', () => {
  const tank = { tankVolumeL: 1000, targetCellsMl: 50_000, residualCellsMl: 12_000, stockCellsMl: 6_000_000 };

  it('adding the volume that comes out brings the tank to its target: no cell is lost or made', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100_000, noNaN: true }),
        fc.double({ min: 1, max: 500_000, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 1.5, max: 1000, noNaN: true }),
        (tankVolumeL, targetCellsMl, left, richer) => {
          const residualCellsMl = targetCellsMl * left;
          const stockCellsMl = targetCellsMl * richer;
          const litres = value(feedVolumeL({ tankVolumeL, targetCellsMl, residualCellsMl, stockCellsMl }));
          const cells = tankVolumeL * residualCellsMl + litres * stockCellsMl;
          expect(cells / (tankVolumeL + litres) / targetCellsMl).toBeCloseTo(1, 9);
        },
      ),
      { seed: SEED },
    );
  });

  it('the bench sheet is short by the share of target to stock', () => {
    expect(value(feedVolumeOnBenchSheetL(tank)) / value(feedVolumeL(tank))).toBeCloseTo(1 - 50_000 / 6_000_000, 12);
  });

  it('an empty tank without volume is refused by name', () => {
    expect(feedVolumeL({ ...tank, tankVolumeL: 0 })).toMatchObject({
      fault: { code: 'out-of-range', what: 'tankVolumeL' },
    });
  });

  it('shares that do not add up to one are refused', () => {
    const alga = { shareOfEquivalents: 0.4, equivalentsPerCell: 1, stockCellsMl: 1e6 };
    const feed = { tankVolumeL: 10, targetEquivalentsMl: 100, residualEquivalentsMl: 0 };
    expect(why(mixedFeed({ ...feed, algae: [alga, alga] }))).toBe('shares-not-one');
    expect(why(mixedFeed({ ...feed, algae: [] }))).toBe('shares-not-one');
  });

  it('a mixed feed above its target needs nothing of each', () => {
    const alga = { shareOfEquivalents: 1, equivalentsPerCell: 1, stockCellsMl: 1e6 };
    const feed = { tankVolumeL: 10, targetEquivalentsMl: 100, residualEquivalentsMl: 200, algae: [alga] };
    expect(value(mixedFeed(feed))).toEqual({ algae: [{ cells: 0, feedVolumeL: 0 }], totalFeedVolumeL: 0 });
  });

  it('a control that lost more than the tank tells nothing about grazing', () => {
    const counts = { volumeL: 200, animals: 50, hours: 2, startCellsMl: 60_000, endCellsMl: 58_000 };
    const control = { controlStartCellsMl: 60_000, controlEndCellsMl: 50_000 };
    expect(why(clearance({ ...counts, ...control }))).toBe('nothing-grazed');
  });

  it('animals that ate nothing cleared nothing: zero is an answer', () => {
    const still = { startCellsMl: 60_000, endCellsMl: 60_000, controlStartCellsMl: 1, controlEndCellsMl: 1 };
    expect(value(clearance({ volumeL: 200, animals: 50, hours: 2, ...still }))).toEqual({
      clearanceLPerHPerAnimal: 0,
      meanCellsMl: 60_000,
      ingestionCellsPerHPerAnimal: 0,
    });
  });

  it('a tank that was not grazed has no forecast', () => {
    const counts = { firstCellsMl: 5, secondCellsMl: 5, hoursBetween: 1, nowCellsMl: 5, floorCellsMl: 1 };
    expect(why(grazingForecast(counts))).toBe('no-decline');
    expect(why(grazingForecast({ ...counts, secondCellsMl: 4, nowCellsMl: 0.5 }))).toBe('already-past');
  });
});

describe('Counting', () => {
  it('no cell counted still leaves an upper end of 3.69 (Garwood 1936, from memory)', () => {
    const { low, high } = poissonInterval95(0);
    expect(low).toBe(0);
    expect(high).toBeCloseTo(-Math.log(0.025), 9);
  });

  it('ten counted: 4.795 to 18.390 (published tables of the Poisson interval, from memory)', () => {
    const { low, high } = poissonInterval95(10);
    expect(low).toBeCloseTo(4.795, 3);
    expect(high).toBeCloseTo(18.39, 3);
  });

  it('the interval holds the count, and grows with it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200_000 }), (count) => {
        const { low, high } = poissonInterval95(count);
        expect(low).toBeLessThan(count);
        expect(high).toBeGreaterThan(count);
        expect(low).toBeGreaterThan(poissonInterval95(count - 1).low);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it("Student's t: 12.706, 4.303, 2.571, 2.042 for 1, 2, 5, 30 degrees of freedom (published tables, from memory)", () => {
    for (const [degrees, t] of [
      [1, 12.706],
      [2, 4.303],
      [5, 2.571],
      [30, 2.042],
    ] as const) {
      expect(studentT95(degrees)).toBeCloseTo(t, 3);
    }
  });

  it('20! is 2432902008176640000 (arithmetic)', () => {
    expect(logFactorial(20)).toBeCloseTo(Math.log(2_432_902_008_176_640_000), 12);
    expect(logFactorial(0)).toBeCloseTo(0, 12);
  });

  it('the interval reported is never narrower than either of the two it is made of', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 5000 }), { minLength: 1, maxLength: 12 }), (counts) => {
        const count = value(replicateCount({ counts, subsampleMl: 0.5, totalVolumeMl: 2000 }));
        const width = count.highAnimals - count.lowAnimals;
        const byReplicates = (count.highByReplicates ?? 0) - (count.lowByReplicates ?? 0);
        expect(width).toBe(Math.max(byReplicates, count.highByChance - count.lowByChance));
        expect(count.lowAnimals).toBeGreaterThanOrEqual(0);
        expect(count.lowAnimals).toBeLessThanOrEqual(count.animals);
        expect(count.highAnimals).toBeGreaterThanOrEqual(count.animals);
      }),
      { seed: SEED },
    );
  });

  it('one count has no spread: chance alone is reported', () => {
    const count = value(replicateCount({ counts: [70], subsampleMl: 0.2, totalVolumeMl: 3000 }));
    expect(count.lowAnimals).toBe(count.lowByChance);
    expect(count).not.toHaveProperty('overdispersed');
  });

  it('half a cell, no count at all and a subsample larger than the volume are refused', () => {
    const chamber = { squareAreaMm2: 1, depthMm: 0.1, dilutionFactor: 1 };
    expect(why(chamberCount({ ...chamber, counts: [3.5] }))).toBe('count-not-whole');
    expect(why(chamberCount({ ...chamber, counts: [] }))).toBe('nothing-counted');
    expect(why(replicateCount({ counts: [1], subsampleMl: 2, totalVolumeMl: 1 }))).toBe('subsample-exceeds-volume');
  });
});

describe('Survival', () => {
  const stock = { startCount: 1000, endCount: 500, removedCount: 0, days: 10 };

  it('culls are not deaths: the rate from what was left gives back what was counted', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 1e9 }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 100, noNaN: true }),
        (startCount, culled, alive, days) => {
          const removedCount = startCount * culled;
          const endCount = (startCount - removedCount) * alive;
          const { mortalityRatePerDay } = value(mortality({ startCount, endCount, removedCount, days }));
          const back = (startCount - removedCount) * Math.exp(-mortalityRatePerDay * days);
          expect(back / endCount).toBeCloseTo(1, 9);
        },
      ),
      { seed: SEED },
    );
  });

  it('all dead is a survival of 0, and has no rate', () => {
    expect(value(survivalFraction({ ...stock, endCount: 0 }))).toBe(0);
    expect(why(mortality({ ...stock, endCount: 0 }))).toBe('none-left');
  });

  it('nobody dead is a rate of 0', () => {
    expect(value(mortality({ ...stock, endCount: 1000 }))).toEqual({
      survivalFraction: 1,
      mortalityRatePerDay: 0,
      dailyMortalityFraction: 0,
    });
  });

  it('more at the end than there were is a wrong count, not a survival above 1', () => {
    expect(why(survivalFraction({ ...stock, endCount: 1001 }))).toBe('more-than-there-were');
    expect(why(survivalFraction({ ...stock, removedCount: 1000 }))).toBe('all-removed');
  });

  it('the interval of a share stays between 0 and 1 and holds the share', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100_000 }), fc.double({ min: 0, max: 1, noNaN: true }), (of, share) => {
        const hits = Math.round(of * share);
        const { low, high } = wilsonInterval95(hits, of);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(hits / of);
        expect(high).toBeGreaterThanOrEqual(hits / of);
      }),
      { seed: SEED },
    );
    expect(why(deadFraction({ dead: 3, examined: 2 }))).toBe('more-dead-than-examined');
  });

  it('chance that at least none of the affected tanks is on the line is certainty', () => {
    fc.assert(
      fc.property(
        fc.tuple(...[1, 2, 3, 4].map(() => fc.integer({ min: 0, max: 40 }))),
        ([a = 0, b = 0, c = 0, d = 0]) => {
          fc.pre(a + b > 0 && c + d > 0);
          const tanks = { affectedOnLine: a, unaffectedOnLine: b, affectedElsewhere: c, unaffectedElsewhere: d };
          const { pOneSided } = value(lineAssociation(tanks));
          expect(pOneSided).toBeGreaterThan(0);
          expect(pOneSided).toBeLessThanOrEqual(1);
          if (a === 0) expect(pOneSided).toBeCloseTo(1, 9);
        },
      ),
      { seed: SEED },
    );
    const nowhere = { affectedOnLine: 0, unaffectedOnLine: 0, affectedElsewhere: 1, unaffectedElsewhere: 1 };
    expect(why(lineAssociation(nowhere))).toBe('nothing-to-compare');
  });
});

describe('Stocking and growth', () => {
  it('a suspension thinner than the density wanted is refused', () => {
    expect(why(stockByVolume({ targetPerMl: 8, tankVolumeL: 100, suspensionPerMl: 7 }))).toBe('suspension-too-thin');
    expect(value(stockByVolume({ targetPerMl: 8, tankVolumeL: 100, suspensionPerMl: 8 })).suspensionVolumeL).toBe(100);
  });

  it('a subsample cannot weigh more than the whole', () => {
    expect(why(seedByWeight({ totalDrainedG: 1, sampleG: 2, sampleCount: 5 }))).toBe('sample-exceeds-total');
  });

  it('what did not grow has no day of setting and no doubling time', () => {
    const larvae = { firstLengthUm: 100, secondLengthUm: 100, days: 2, settingLengthUm: 220 };
    expect(why(larvalGrowth(larvae))).toBe('no-growth');
    expect(why(larvalGrowth({ ...larvae, secondLengthUm: 230 }))).toBe('already-past');
    expect(value(larvalGrowth({ ...larvae, secondLengthUm: 220 })).daysToSetting).toBe(0);
    expect(why(specificGrowth({ firstWeightMg: 2, secondWeightMg: 1, days: 7 }))).toBe('no-growth');
  });

  it('a fit gives back the threshold and total that its days were made from', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 12, noNaN: true }),
        fc.double({ min: 100, max: 1000, noNaN: true }),
        (thresholdC, degreeDays) => {
          const observations = [16, 19, 22].map((temperatureC) => ({
            temperatureC,
            days: degreeDays / (temperatureC - thresholdC),
          }));
          const fit = value(degreeDayFit({ observations }));
          expect(fit.thresholdC).toBeCloseTo(thresholdC, 6);
          expect(fit.degreeDays / degreeDays).toBeCloseTo(1, 9);
        },
      ),
      { seed: SEED },
    );
  });

  it('one temperature, or animals that were not sooner when warmer, give no fit', () => {
    const at = (temperatureC: number, days: number) => ({ temperatureC, days });
    expect(why(degreeDayFit({ observations: [at(16, 27), at(16, 26)] }))).toBe('one-temperature-only');
    expect(why(degreeDayFit({ observations: [at(16, 20), at(20, 25)] }))).toBe('not-sooner-when-warmer');
  });

  it('a cold week takes nothing away from the degree-days', () => {
    expect(value(degreeDaySum({ thresholdC: 10, periods: [{ days: 7, meanC: 4 }] }))).toBe(0);
    expect(value(degreeDaySum({ thresholdC: 10, periods: [] }))).toBe(0);
  });
});

describe('Heat, flow and change', () => {
  it('water that is warm enough has nothing to heat, and a limit that is passed is no forecast', () => {
    const tank = { volumeL: 100, heaterKw: 1 };
    expect(why(heatBatch({ ...tank, fromC: 24, toC: 20, fractionReachingWater: 1 }))).toBe('already-warmer');
    expect(why(stuckHeater({ ...tank, nowC: 31, limitC: 30 }))).toBe('already-past');
    expect(value(stuckHeater({ ...tank, nowC: 30, limitC: 30 })).hoursToLimit).toBe(0);
  });

  it('a stuck heater warms as much in the hours it says as the heat of the tank needs', () => {
    const tank = { volumeL: 750, heaterKw: 2 };
    const { hoursToLimit } = value(stuckHeater({ ...tank, nowC: 22, limitC: 29 }));
    const { energyKwh } = value(heatBatch({ ...tank, fromC: 22, toC: 29, fractionReachingWater: 1 }));
    expect(hoursToLimit * 2).toBeCloseTo(energyKwh, 12);
  });

  it('cooling never passes the room, and must be on its way to it', () => {
    const tank = { startC: 24, laterC: 23, hoursBetween: 2, roomC: 16, limitC: 15 };
    expect(why(coolDown(tank))).toBe('limit-never-reached');
    expect(why(coolDown({ ...tank, limitC: 16 }))).toBe('limit-never-reached');
    expect(why(coolDown({ ...tank, laterC: 25 }))).toBe('not-towards-room');
    expect(why(coolDown({ ...tank, laterC: 16 }))).toBe('not-towards-room');
    expect(value(coolDown({ ...tank, limitC: 24 })).hoursFromStartToLimit).toBe(0);
  });

  it('a cold tank warms to a warm room by the same law', () => {
    const tank = { startC: 10, laterC: 12, hoursBetween: 1, roomC: 20, limitC: 15 };
    expect(value(coolDown(tank)).hoursFromStartToLimit).toBeCloseTo(Math.log(2) / Math.log(10 / 8), 12);
  });

  it('an hour of flow leaves what is not replaced', () => {
    const { fractionReplaced, minutesTo95Pct } = value(turnover({ volumeL: 400, flowLMin: 5, minutes: 0 }));
    expect(fractionReplaced).toBe(0);
    expect(value(turnover({ volumeL: 400, flowLMin: 5, minutes: minutesTo95Pct })).fractionReplaced).toBeCloseTo(
      0.95,
      12,
    );
  });

  it('oxygen that does not fall has no time to its limit', () => {
    const readings = { firstMgL: 6, secondMgL: 6, hoursBetween: 1, limitMgL: 4 };
    expect(why(oxygenDecline(readings))).toBe('no-decline');
    expect(why(oxygenDecline({ ...readings, secondMgL: 3 }))).toBe('already-past');
  });

  it('the fastest change does not look across a gap', () => {
    const at = (minute: number, temperatureC: number) => ({ minute, temperatureC });
    const readings = [at(0, 20), at(10, 20.5), at(200, 29), at(210, 29.2)];
    expect(value(fastestChange({ readings, windowMin: 10 })).largestChangeC).toBeCloseTo(0.5, 12);
    expect(why(fastestChange({ readings, windowMin: 60 }))).toBe('window-not-covered');
    expect(why(fastestChange({ readings: readings.slice(0, 2), windowMin: 60 }))).toBe('window-not-covered');
    expect(why(fastestChange({ readings: [at(1, 20), at(1, 21)], windowMin: 1 }))).toBe('times-not-rising');
  });
});
