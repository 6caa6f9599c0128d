import { ok } from '../result.js';
import type { HoursLeft, Reach } from '../seawater/hours-left.js';
import {
  BALANCE_RANGES,
  exchangePerH,
  hoursUntilOxygen,
  hoursUntilOxygenSlowing,
  oxygenAfterMgL,
  steadyOxygenMgL,
  uptakeMgLPerH,
} from '../seawater/oxygen-budget.js';
import { hoursOfOxygenLeft, hoursOfOxygenLeftFromSlope } from '../seawater/oxygen-left.js';
import { exactly, type Interval, withinFactor } from '../statistics/interval.js';
import type { Calculation, CalculationResult } from './calculation.js';
import { assumed, define, needed } from './define.js';

const BUDGET = 'balance of mass in a well-mixed tank; what animals use is taken as constant';

const RANGES = BALANCE_RANGES;
const oxygenMgL = needed('oxygenMgL', 'mg/L', RANGES.oxygenMgL);
const uptake = needed('uptakeMgLPerH', 'mg/L/h', RANGES.uptakeMgLPerH);
const targetMgL = needed('targetMgL', 'mg/L', RANGES.targetMgL);
const limitMgL = needed('limitMgL', 'mg/L', RANGES.limitMgL);

/** With an accuracy of up to 2 mg/L, and a factor of up to ten, still inside the ranges of the budget. */
const readOxygenMgL = needed('oxygenMgL', 'mg/L', [0, 48]);
const likelyUptake = needed('uptakeMgLPerH', 'mg/L/h', [0, 1000]);

/** Sealed by default: no air, no flow. */
const supply = [
  needed('solubilityMgL', 'mg/L', RANGES.solubilityMgL),
  assumed('reaerationPerH', '1/h', RANGES.reaerationPerH, 0),
  assumed('exchangePerH', '1/h', RANGES.exchangePerH, 0),
  assumed('inflowOxygenMgL', 'mg/L', RANGES.inflowOxygenMgL, 0),
] as const;

const REACH = { reached: ['reached at all', ''], hours: ['after', 'h'] } as const;
const LEFT = {
  soonestHours: ['soonest', 'h'],
  likelyHours: ['likely', 'h'],
  latestHours: ['latest', 'h'],
  course: ['course', ''],
} as const;

const reachResult = (reach: Reach): CalculationResult =>
  reach.kind === 'never' ? { reached: false } : { reached: true, hours: reach.hours };

const leftResult = (left: HoursLeft): CalculationResult => {
  switch (left.kind) {
    case 'already':
      return { course: 'at the limit already', soonestHours: 0 };
    case 'never':
      return { course: 'never down to the limit' };
    case 'may-reach':
      return {
        course: 'may come down to the limit',
        soonestHours: left.soonestHours,
        likelyHours: left.likelyHours,
      };
    case 'reaches':
      return {
        course: 'comes down to the limit',
        soonestHours: left.hours.low,
        likelyHours: left.hours.mid,
        latestHours: left.hours.high,
      };
  }
};

const plusMinus = (mid: number, by: number): Interval => ({ low: Math.max(0, mid - by), mid, high: mid + by });

/** How long the oxygen lasts, and what uses it. */
export const OXYGEN_BUDGET_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'water-exchange',
    purpose: 'Turnovers per hour of a tank with flow.',
    options: [needed('flowLPerH', 'L/h', RANGES.flowLPerH), needed('volumeL', 'L', RANGES.volumeL)],
    gives: '1/h',
    source: 'arithmetic',
    run: exchangePerH,
  }),
  define({
    name: 'uptake-per-litre',
    purpose: 'Oxygen that animals and bed use, spread over the water.',
    options: [needed('uptakeMgPerH', 'mg/h', RANGES.uptakeMgPerH), needed('volumeL', 'L', RANGES.volumeL)],
    gives: 'mg/L/h',
    source: 'arithmetic',
    run: uptakeMgLPerH,
  }),
  define({
    name: 'steady-oxygen',
    purpose: 'Where the oxygen of a tank settles with this air, flow and uptake.',
    options: [oxygenMgL, ...supply, uptake],
    gives: 'mg/L',
    source: BUDGET,
    run: steadyOxygenMgL,
  }),
  define({
    name: 'oxygen-after',
    purpose: 'Oxygen after some hours with this air, flow and uptake; sealed when no air and flow are given.',
    options: [oxygenMgL, ...supply, uptake, needed('hours', 'h', RANGES.hours)],
    gives: 'mg/L',
    source: BUDGET,
    run: oxygenAfterMgL,
  }),
  define({
    name: 'hours-until-oxygen',
    purpose: 'Hours until the oxygen is at a value; sealed when no air and flow are given.',
    options: [oxygenMgL, ...supply, uptake, targetMgL],
    gives: REACH,
    source: BUDGET,
    run: (values) => {
      const reach = hoursUntilOxygen(values);
      return reach.ok ? ok(reachResult(reach.value)) : reach;
    },
  }),
  define({
    name: 'hours-until-oxygen-slowing',
    purpose:
      'The same, sealed, with animals that use less below a critical oxygen; not for alarms, it gives the longer time.',
    options: [oxygenMgL, uptake, needed('criticalMgL', 'mg/L', [0.01, 25]), targetMgL],
    gives: REACH,
    source: 'balance of mass; the critical oxygen belongs to the species and the stock',
    run: (values) => {
      const reach = hoursUntilOxygenSlowing(values);
      return reach.ok ? ok(reachResult(reach.value)) : reach;
    },
  }),
  define({
    name: 'oxygen-left',
    purpose: 'Hours of oxygen left until a limit, from soonest to latest over what is not known exactly.',
    options: [
      readOxygenMgL,
      assumed('accuracyMgL', 'mg/L', [0, 2], 0.2),
      ...supply,
      likelyUptake,
      assumed('uptakeFactor', '1', [1, 10], 2),
      limitMgL,
    ],
    gives: LEFT,
    source: `${BUDGET}, and known within the factor`,
    run: ({ accuracyMgL, uptakeFactor, limitMgL: line, ...values }) => {
      const left = hoursOfOxygenLeft({
        ...values,
        limitMgL: line,
        oxygenMgL: plusMinus(values.oxygenMgL, accuracyMgL),
        reaerationPerH: exactly(values.reaerationPerH),
        uptakeMgLPerH: withinFactor(values.uptakeMgLPerH, uptakeFactor),
      });
      return left.ok ? ok(leftResult(left.value)) : left;
    },
  }),
  define({
    name: 'oxygen-left-from-slope',
    purpose: 'Hours of oxygen left until a limit, from the slope measured since the failure (negative when it falls).',
    options: [
      readOxygenMgL,
      assumed('accuracyMgL', 'mg/L', [0, 2], 0.2),
      needed('slopeMgLPerH', 'mg/L/h', [-9000, 9000]),
      assumed('slopeErrorMgLPerH', 'mg/L/h', [0, 1000], 0),
      limitMgL,
    ],
    gives: LEFT,
    source: 'arithmetic',
    run: (values) => {
      const { slopeMgLPerH: mid, slopeErrorMgLPerH: error } = values;
      const left = hoursOfOxygenLeftFromSlope({
        oxygenMgL: plusMinus(values.oxygenMgL, values.accuracyMgL),
        slopeMgLPerH: { low: mid - error, mid, high: mid + error },
        limitMgL: values.limitMgL,
      });
      return left.ok ? ok(leftResult(left.value)) : left;
    },
  }),
];
