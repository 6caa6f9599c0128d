import { ok } from '../result.js';
import { BALANCE_RANGES } from '../seawater/oxygen-budget.js';
import { uptakeFromReadings, uptakeFromSlope } from '../seawater/oxygen-uptake.js';
import { OXYGEN_MG_L, TEMPERATURE_C } from '../seawater/range.js';
import {
  REAERATION_THETA,
  reaerationAtTemperature,
  reaerationFromTwoReadings,
  STILL_SURFACE_PER_H,
} from '../seawater/reaeration.js';
import { RESPIRATION, RESPIRATION_RELATIONS, respirationMgPerH } from '../seawater/respiration.js';
import { exactly } from '../statistics/interval.js';
import type { Calculation } from './calculation.js';
import { assumed, choice, define, list, needed } from './define.js';
import { pairs } from './pairs.js';

const STILL = 'the still-surface figure is an order of magnitude (common practice, no source)';

const RANGES = BALANCE_RANGES;

/** What air brings, and what animals and bed use. */
export const OXYGEN_UPTAKE_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'reaeration-at-temperature',
    purpose: 'What air stones or a surface bring at another temperature (kLa), from kLa at 20 °C.',
    options: [
      needed('reaerationPerH20', '1/h', RANGES.reaerationPerH),
      needed('temperatureC', '°C', TEMPERATURE_C),
      assumed('theta', '1', [1, 1.2], REAERATION_THETA.value),
    ],
    gives: '1/h',
    source: 'factor 1.024 per °C, common in river and wastewater practice, no hatchery source',
    run: reaerationAtTemperature,
  }),
  define({
    name: 'reaeration-from-readings',
    purpose: 'kLa from two oxygen readings in the tank without animals.',
    options: [
      needed('solubilityMgL', 'mg/L', RANGES.solubilityMgL),
      needed('firstMgL', 'mg/L', OXYGEN_MG_L),
      needed('secondMgL', 'mg/L', OXYGEN_MG_L),
      needed('hours', 'h', [0.001, 1000]),
    ],
    gives: '1/h',
    source: 'first-order exchange with air',
    run: reaerationFromTwoReadings,
  }),
  define({
    name: 'uptake-from-slope',
    purpose: 'What a tank uses, from the slope of its oxygen with air and flow off (negative when it falls).',
    options: [
      needed('slopeMgLPerH', 'mg/L/h', [-10_000, 10_000]),
      needed('oxygenMgL', 'mg/L', RANGES.oxygenMgL),
      needed('solubilityMgL', 'mg/L', RANGES.solubilityMgL),
      assumed('reaerationPerH', '1/h', RANGES.reaerationPerH, STILL_SURFACE_PER_H.value.mid),
      assumed('exchangePerH', '1/h', RANGES.exchangePerH, 0),
      assumed('inflowOxygenMgL', 'mg/L', RANGES.inflowOxygenMgL, 0),
    ],
    gives: 'mg/L/h',
    source: `balance of mass; ${STILL}`,
    run: (values) => {
      const uptakeNow = uptakeFromSlope({
        ...values,
        slopeMgLPerH: exactly(values.slopeMgLPerH),
        reaerationPerH: exactly(values.reaerationPerH),
      });
      return uptakeNow.ok ? ok(uptakeNow.value.mid) : uptakeNow;
    },
  }),
  define({
    name: 'uptake-from-readings',
    purpose: 'What a tank uses, from at least 10 readings with air and flow off and the water stirred.',
    options: [
      list('minute', 'min', [0, 100_000]),
      list('oxygenMgL', 'mg/L', OXYGEN_MG_L),
      needed('resolutionMgL', 'mg/L', [0.0001, 1]),
      needed('solubilityMgL', 'mg/L', RANGES.solubilityMgL),
      assumed('reaerationPerH', '1/h', RANGES.reaerationPerH, STILL_SURFACE_PER_H.value.mid),
    ],
    gives: { low: ['from', 'mg/L/h'], mid: ['likely', 'mg/L/h'], high: ['to', 'mg/L/h'] },
    source: `slope by Theil and Sen with its 95 % interval; ${STILL}`,
    run: (values) =>
      uptakeFromReadings({
        readings: pairs(values.minute, values.oxygenMgL).map(([minute, reading]) => ({
          atMs: minute * 60_000,
          oxygenMgL: reading,
        })),
        resolutionMgL: values.resolutionMgL,
        solubilityMgL: values.solubilityMgL,
        reaerationPerH: exactly(values.reaerationPerH),
        exchangePerH: 0,
        inflowOxygenMgL: 0,
      }),
  }),
  define({
    name: 'respiration',
    purpose: 'Oxygen that one Pacific oyster uses, within a factor of two; measure your own tank when you can.',
    options: [
      choice('relation', RESPIRATION_RELATIONS, RESPIRATION_RELATIONS[0]),
      needed('temperatureC', '°C', [5, 32]),
      needed('dryTissueG', 'g', [0.1, 3]),
    ],
    gives: { low: ['from', 'mg/h'], mid: ['likely', 'mg/h'], high: ['to', 'mg/h'] },
    digits: 2,
    source: RESPIRATION_RELATIONS.map((relation) => RESPIRATION[relation].source).join('; '),
    run: respirationMgPerH,
  }),
];
