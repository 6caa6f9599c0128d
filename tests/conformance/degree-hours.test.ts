import { describe, expect, it } from 'vitest';
import { degreeDays } from '../../rules/statistics/degree-days.js';
import { type BeyondLine, degreeHours } from '../../rules/statistics/degree-hours.js';
import type { Sample } from '../../rules/statistics/sample.js';
import {
  q10FromRates,
  q10FromTheta,
  rateAtTemperature,
  thetaFromQ10,
} from '../../rules/statistics/temperature-response.js';
import { survivalHoursAt, thermalDeathLine, thermalDose } from '../../rules/statistics/thermal-dose.js';
import { answered, expectWithin } from '../support/answered.js';
import { type CheckRow, checkRows } from '../support/check-values.js';

const MS_PER_HOUR = 3_600_000;

const seriesOf = (row: CheckRow): readonly Sample[] =>
  row
    .text('series')
    .split(';')
    .map((pair) => pair.split(':').map(Number))
    .map(([hour = Number.NaN, value = Number.NaN]) => ({ atMs: hour * MS_PER_HOUR, value }));

const lineOf = (row: CheckRow): BeyondLine => ({
  line: row.number('line'),
  side: row.text('side') === 'above' ? 'above' : 'below',
  ...(row.text('maxGapH') === '-' ? {} : { maxGapMs: row.number('maxGapH') * MS_PER_HOUR }),
});

const TOTALS = ['degreeHours', 'hoursBeyond', 'hoursCovered', 'hoursGap'] as const;

describe('Degree-hours', () => {
  // Exact by geometry; also against dense numerical integration (5e-10).
  it.each(checkRows('statistics/degree-hours.csv').map((row) => [row.text('case'), row] as const))('%s', (_, row) => {
    const total = degreeHours(lineOf(row), seriesOf(row));
    for (const what of TOTALS) expectWithin(total[what], row.number(what), 0.000001, `${what}: ${row.line}`);
  });

  it('make 2/7 of a degree-day of a triangle day, as single triangulation does (R TrenchR)', () => {
    const samples = [
      { atMs: 0, value: 7 },
      { atMs: 12 * MS_PER_HOUR, value: 14 },
      { atMs: 24 * MS_PER_HOUR, value: 7 },
    ];
    const total = degreeDays({ samples, baseC: 12 });
    expectWithin(total.degreeDays, 2 / 7, 1e-9, 'triangle day');
    expectWithin(total.degreeDays, (0.5 * (14 - 12) ** 2) / (14 - 7), 1e-9, 'single triangulation');
  });
});

describe('Rates and temperature', () => {
  // Computed.
  it.each([
    [1, 2, 10, 20, 2],
    [0.5, 2, 18, 25, 0.8122524],
    [2, 2.5, 25, 15, 0.8],
    [1, 1.3, 10, 30, 1.69],
  ])('%d at Q10 %d from %d to %d °C is %d', (rate, q10, fromC, toC, expected) => {
    expectWithin(answered(rateAtTemperature({ rate, q10, fromC, toC })), expected, 1e-8, `${expected}`);
  });

  // The last three: bay scallop juveniles, Lu and others 1999 (abstract). Of the first pair they print 2.99, which does not
  // follow from their means; the value here does.
  it.each([
    [1, 1.8, 10, 20, 1.8],
    [0.6, 0.9, 15, 20, 2.25],
    [1.24, 1.77, 15, 20, 2.0375],
    [1.77, 2.33, 20, 25, 1.7329],
    [2.33, 2.74, 25, 30, 1.3829],
  ])('%d and %d at %d and %d °C are a Q10 of %d', (rateAtFrom, rateAtTo, fromC, toC, q10) => {
    expectWithin(answered(q10FromRates({ rateAtFrom, rateAtTo, fromC, toC })), q10, 0.0001, `${q10}`);
  });

  // Computed.
  it.each([
    [1.024, 1.267651],
    [1.047, 1.582949],
    [1.065, 1.877137],
  ])('%d for each degree is a Q10 of %d', (theta, q10) => {
    expectWithin(answered(q10FromTheta(theta)), q10, 0.000001, `${theta}`);
  });

  it('is 1.071773 for each degree at a Q10 of 2 (computed)', () => {
    expectWithin(answered(thetaFromQ10(2)), 1.071773, 0.000001, 'theta');
  });
});

// The form of Rezende and others 2014; the animal is invented, the numbers computed.
describe('Thermal death time of an animal that stands 200 h at 30 °C and 5 h at 34 °C', () => {
  const line = answered(
    thermalDeathLine({
      cooler: { temperatureC: 30, hours: 200 },
      warmer: { temperatureC: 34, hours: 5 },
      marginC: 2,
    }),
  );

  it('falls tenfold in 2.4968 °C', () => expectWithin(line.zC, 2.496785, 0.000001, 'z'));

  it('is 31.6 h at 32 °C', () => expectWithin(answered(survivalHoursAt(line, 32)), 31.622777, 0.000001, '32 °C'));

  it('is spent to 0.385 by 10 h at 31, 2 h at 33 and 20 h at 30 °C', () => {
    const spells = [
      { temperatureC: 31, hours: 10 },
      { temperatureC: 33, hours: 2 },
      { temperatureC: 30, hours: 20 },
    ];
    expectWithin(answered(thermalDose(line, spells)), 0.384797, 0.000001, 'dose');
  });

  it('does not count water cooler than the line is believed', () => {
    expect(answered(thermalDose(line, [{ temperatureC: 27.9, hours: 1000 }]))).toBe(0);
  });
});
