import { fastestChange } from '../husbandry/fastest-change.js';
import { flowFromBucketLMin, turnover, upwellerLoading } from '../husbandry/flow.js';
import { coolDown, heatBatch, heatFlowKw, SEAWATER_KG_L, SEAWATER_KJ_KG_K, stuckHeater } from '../husbandry/heating.js';
import { oxygenDecline } from '../husbandry/oxygen-decline.js';
import { FLOW_L_MIN, HOURS, POWER_KW, type Range, ROOM_C, TEMPERATURE_C, VOLUME_L } from '../husbandry/range.js';
import { disinfectantMl } from '../husbandry/stocking.js';
import type { Calculation } from './calculation.js';
import { assumed, define, list, needed } from './define.js';
import { pairs } from './pairs.js';

const HEAT = 'arithmetic; density and heat capacity of seawater near 20 °C from memory of standard tables';
const HEATER_CAUTION =
  'Salt water and mains current kill: earth-leakage protection, and fixed wiring by a licensed electrician. Switch a heater off and let it cool before the water goes down; a heater in air can burn the building.';
const DISINFECTANT_CAUTION =
  'Not for water with animals in it. Chlorine, acid and peroxide must never be mixed. Wear eye protection and gloves, label every bucket, and follow the maker and the rules of your place.';

const OXYGEN_MG_L: Range = [0, 50];

const WATER = [
  assumed('densityKgL', 'kg/L', [0.9, 1.2], SEAWATER_KG_L),
  assumed('heatCapacityKjKgK', 'kJ/(kg K)', [3, 4.5], SEAWATER_KJ_KG_K),
] as const;

/** Heating, flow, and what a tank does by itself. */
export const TANK_WATER_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'disinfectant-dose',
    purpose: 'Millilitres of a stock for a dose in water without animals.',
    options: [
      needed('targetMgL', 'mg/L', [0, 1_000_000]),
      needed('volumeL', 'L', VOLUME_L),
      needed('stockGL', 'g/L', [0.001, 3000]),
    ],
    gives: 'mL',
    source: 'arithmetic',
    caution: DISINFECTANT_CAUTION,
    run: disinfectantMl,
  }),
  define({
    name: 'heat-batch',
    purpose: 'Heat to warm a tank, and how long a heater takes, losses apart.',
    options: [
      needed('volumeL', 'L', VOLUME_L),
      needed('fromC', '°C', TEMPERATURE_C),
      needed('toC', '°C', TEMPERATURE_C),
      needed('heaterKw', 'kW', POWER_KW),
      assumed('fractionReachingWater', '1', [0.01, 1], 1),
      ...WATER,
    ],
    gives: { energyKwh: ['heat', 'kWh'], hours: ['takes', 'h'] },
    source: HEAT,
    caution: HEATER_CAUTION,
    run: heatBatch,
  }),
  define({
    name: 'heat-flow',
    purpose: 'Power that warms a flow.',
    options: [needed('flowLMin', 'L/min', FLOW_L_MIN), needed('riseC', '°C', [0, 50]), ...WATER],
    gives: 'kW',
    source: HEAT,
    caution: HEATER_CAUTION,
    run: heatFlowKw,
  }),
  define({
    name: 'stuck-heater',
    purpose: 'How fast a heater stuck on warms a tank, and how long to a limit, without losses.',
    options: [
      needed('heaterKw', 'kW', POWER_KW),
      needed('volumeL', 'L', VOLUME_L),
      needed('nowC', '°C', TEMPERATURE_C),
      needed('limitC', '°C', TEMPERATURE_C),
      ...WATER,
    ],
    gives: { riseCPerH: ['rises', '°C/h'], hoursToLimit: ['to the limit', 'h'] },
    source: HEAT,
    caution: HEATER_CAUTION,
    run: stuckHeater,
  }),
  define({
    name: 'cool-down',
    purpose: 'Hours from the first of two readings to a limit, on the way to the temperature of the room.',
    options: [
      needed('startC', '°C', TEMPERATURE_C),
      needed('laterC', '°C', TEMPERATURE_C),
      needed('hoursBetween', 'h', HOURS),
      needed('roomC', '°C', ROOM_C),
      needed('limitC', '°C', TEMPERATURE_C),
    ],
    gives: { ratePerH: ['rate', '1/h'], hoursFromStartToLimit: ['to the limit', 'h'] },
    source: "Newton's law of cooling",
    run: coolDown,
  }),
  define({
    name: 'turnover',
    purpose: 'How often a flow renews a tank, and how much of the water is new after a while.',
    options: [
      needed('volumeL', 'L', VOLUME_L),
      needed('flowLMin', 'L/min', FLOW_L_MIN),
      assumed('minutes', 'min', [0, 1_000_000], 60),
    ],
    gives: {
      turnoversPerDay: ['turnovers a day', '1'],
      residenceMin: ['residence', 'min'],
      fractionReplaced: ['replaced', '1'],
      minutesTo95Pct: ['95 % replaced after', 'min'],
    },
    source: 'well-mixed tank',
    run: turnover,
  }),
  define({
    name: 'flow-from-bucket',
    purpose: 'Flow from a timed vessel.',
    options: [needed('collectedMl', 'mL', [0, 10_000_000]), needed('seconds', 's', [0.1, 86_400])],
    gives: 'L/min',
    source: 'arithmetic',
    run: flowFromBucketLMin,
  }),
  define({
    name: 'upweller-loading',
    purpose: 'Live kilograms of seed that an upweller carries, by flow and by area.',
    options: [
      needed('flowLMin', 'L/min', [0, 1_000_000]),
      assumed('flowNeedLMinPerKg', 'L/min per kg', [0.01, 1000], 15),
      needed('areaM2', 'm2', [0, 10_000]),
      assumed('maxKgM2', 'kg/m2', [0.01, 10_000], 120),
    ],
    gives: { kgByFlow: ['by flow', 'kg'], kgByArea: ['by area', 'kg'], kgAllowed: ['allowed', 'kg'] },
    source: 'FAO Fisheries Technical Paper 471, 6.6.2: 10 to 20 L/min per kg, up to 120 kg/m2',
    run: upwellerLoading,
  }),
  define({
    name: 'oxygen-decline',
    purpose: 'Air failed: hours to a limit down the line through two readings.',
    options: [
      needed('firstMgL', 'mg/L', OXYGEN_MG_L),
      needed('secondMgL', 'mg/L', OXYGEN_MG_L),
      needed('hoursBetween', 'h', HOURS),
      needed('limitMgL', 'mg/L', OXYGEN_MG_L),
    ],
    gives: { rateMgLPerH: ['falls by', 'mg/L/h'], hoursFromSecondReading: ['to the limit', 'h'] },
    source: 'arithmetic',
    run: oxygenDecline,
  }),
  define({
    name: 'fastest-change',
    purpose: 'The largest change of temperature over any window of a length; one number of each list per reading.',
    options: [
      list('minute', 'min', [0, 10_000_000]),
      list('temperatureC', '°C', [-30, 100]),
      needed('windowMin', 'min', [0.1, 100_000]),
      assumed('maxGapMin', 'min', [0.1, 100_000], 30),
    ],
    gives: { largestChangeC: ['largest change', '°C'], perHourC: ['which is', '°C/h'] },
    source: 'arithmetic',
    run: ({ minute, temperatureC, ...window }) =>
      fastestChange({
        readings: pairs(minute, temperatureC).map(([at, value]) => ({ minute: at, temperatureC: value })),
        ...window,
      }),
  }),
];
