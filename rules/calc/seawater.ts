import { airPressureKpaFromAltitude } from '../seawater/air-pressure.js';
import { unionisedAmmoniaFraction } from '../seawater/ammonia.js';
import { seawaterDensityKgM3 } from '../seawater/density.js';
import {
  oxygenMgLFromSaturation,
  oxygenSaturationPct,
  oxygenSolubilityMgL,
  oxygenSolubilityUmolKg,
  SATURATION_PCT,
} from '../seawater/oxygen.js';
import { oxygenMeterErrorPct, oxygenMgLFromMeter } from '../seawater/oxygen-meter.js';
import {
  oxygenMgLFromMlL,
  oxygenMgLFromUmolKg,
  oxygenMlLFromMgL,
  oxygenUmolKgFromMgL,
} from '../seawater/oxygen-unit.js';
import { AIR_PRESSURE_KPA, ATMOSPHERE_KPA, OXYGEN_MG_L, SALINITY, TEMPERATURE_C } from '../seawater/range.js';
import {
  CONDUCTIVITY_MS_CM,
  conductivityFromPracticalSalinity,
  practicalSalinityFromConductivity,
} from '../seawater/salinity.js';
import {
  compensationPctPerCFromReadings,
  salinityFromSpecificConductance,
  specificConductanceFromSalinity,
  USUAL_COMPENSATION_PCT_PER_C,
} from '../seawater/specific-conductance.js';
import { vapourPressureKpa } from '../seawater/vapour-pressure.js';
import type { Calculation } from './calculation.js';
import { assumed, choice, define, needed, optional } from './define.js';

const PSS78 = 'PSS-78, UNESCO Technical Papers in Marine Science 44 (1983); below 2 Hill and others 1986';
const SOLUBILITY = 'Garcia and Gordon 1992, fitted to Benson and Krause; pressure with Weiss and Price 1980';
const EOS80 = 'EOS-80, Millero and Poisson 1981, UNESCO Technical Papers in Marine Science 44 (1983)';

const salinity = needed('salinity', '1', SALINITY);
const temperatureC = needed('temperatureC', '°C', TEMPERATURE_C);
const pressureDbar = optional('pressureDbar', 'dbar', [0, 10_000]);
const pressureKpa = assumed('pressureKpa', 'kPa', AIR_PRESSURE_KPA, ATMOSPHERE_KPA);
const oxygenMgL = needed('oxygenMgL', 'mg/L', OXYGEN_MG_L);
const compensation = assumed('compensationPctPerC', '%/°C', [0, 3], USUAL_COMPENSATION_PCT_PER_C);

/** Salinity, density, oxygen and ammonia of seawater. */
export const SEAWATER_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'practical-salinity',
    purpose: 'Practical salinity from conductivity at the temperature of the water.',
    options: [needed('conductivityMsCm', 'mS/cm', CONDUCTIVITY_MS_CM), temperatureC, pressureDbar],
    gives: '1',
    source: PSS78,
    fit: { equation: 'practical-salinity', result: 'salinity' },
    run: practicalSalinityFromConductivity,
  }),
  define({
    name: 'conductivity',
    purpose: 'Conductivity at the temperature of the water from practical salinity.',
    options: [needed('salinity', '1', [0.01, SALINITY[1]]), temperatureC, pressureDbar],
    gives: 'mS/cm',
    source: PSS78,
    fit: { equation: 'practical-salinity' },
    run: conductivityFromPracticalSalinity,
  }),
  define({
    name: 'salinity-from-specific-conductance',
    purpose: 'Practical salinity from conductivity that the probe has turned to 25 °C, with the slope of that probe.',
    options: [needed('specificConductanceMsCm', 'mS/cm', CONDUCTIVITY_MS_CM), temperatureC, compensation, pressureDbar],
    gives: '1',
    source: `${PSS78}; the slope is a setting of the probe, 1.91 %/°C is common (an instrument manual)`,
    fit: { equation: 'practical-salinity', result: 'salinity' },
    run: salinityFromSpecificConductance,
  }),
  define({
    name: 'specific-conductance',
    purpose: 'Conductivity turned to 25 °C, as such a probe sends it, from practical salinity.',
    options: [needed('salinity', '1', [0.01, SALINITY[1]]), temperatureC, compensation, pressureDbar],
    gives: 'mS/cm',
    source: `${PSS78}; the slope is a setting of the probe`,
    fit: { equation: 'practical-salinity' },
    run: specificConductanceFromSalinity,
  }),
  define({
    name: 'probe-compensation',
    purpose: 'The slope of a probe that shows conductivity both ways, at least 5 °C away from 25 °C.',
    options: [
      needed('conductivityMsCm', 'mS/cm', [0.01, 150]),
      needed('specificConductanceMsCm', 'mS/cm', [0.01, 150]),
      temperatureC,
    ],
    gives: '%/°C',
    source: 'arithmetic on the straight-line compensation',
    run: compensationPctPerCFromReadings,
  }),
  define({
    name: 'density',
    purpose: 'Density of seawater at one atmosphere.',
    options: [salinity, temperatureC],
    gives: 'kg/m3',
    source: EOS80,
    fit: { equation: 'density' },
    run: seawaterDensityKgM3,
  }),
  define({
    name: 'oxygen-solubility',
    purpose: 'Oxygen of water in balance with air.',
    options: [salinity, temperatureC, pressureKpa],
    gives: 'mg/L',
    source: SOLUBILITY,
    fit: { equation: 'oxygen' },
    run: oxygenSolubilityMgL,
  }),
  define({
    name: 'oxygen-solubility-umol-kg',
    purpose: 'Oxygen of water in balance with air, in µmol/kg.',
    options: [salinity, temperatureC, pressureKpa],
    gives: 'umol/kg',
    source: SOLUBILITY,
    fit: { equation: 'oxygen' },
    run: oxygenSolubilityUmolKg,
  }),
  define({
    name: 'oxygen-saturation',
    purpose: 'Oxygen saturation from mg/L.',
    options: [oxygenMgL, salinity, temperatureC, pressureKpa],
    gives: '%',
    source: SOLUBILITY,
    fit: { equation: 'oxygen', result: 'saturationPct' },
    run: oxygenSaturationPct,
  }),
  define({
    name: 'oxygen-from-saturation',
    purpose: 'Oxygen in mg/L from saturation.',
    options: [needed('saturationPct', '%', SATURATION_PCT), salinity, temperatureC, pressureKpa],
    gives: 'mg/L',
    source: SOLUBILITY,
    fit: { equation: 'oxygen' },
    run: oxygenMgLFromSaturation,
  }),
  define({
    name: 'oxygen-from-meter',
    purpose: 'True oxygen from a meter that is set to another salinity.',
    options: [needed('shownMgL', 'mg/L', OXYGEN_MG_L), needed('meterSalinity', '1', SALINITY), salinity, temperatureC],
    gives: 'mg/L',
    source: SOLUBILITY,
    run: oxygenMgLFromMeter,
  }),
  define({
    name: 'oxygen-meter-error',
    purpose: 'By how much a meter that is set to another salinity shows too much oxygen.',
    options: [needed('meterSalinity', '1', SALINITY), salinity, temperatureC],
    gives: '%',
    source: SOLUBILITY,
    run: oxygenMeterErrorPct,
  }),
  define({
    name: 'oxygen-from-ml-l',
    purpose: 'Oxygen in mg/L from mL/L.',
    options: [needed('oxygenMlL', 'mL/L', [0, 35])],
    gives: 'mg/L',
    source: '31.9988 g/mol over 22.3916 L/mol, SCOR working group 142',
    run: oxygenMgLFromMlL,
  }),
  define({
    name: 'oxygen-ml-l',
    purpose: 'Oxygen in mL/L from mg/L.',
    options: [oxygenMgL],
    gives: 'mL/L',
    source: '31.9988 g/mol over 22.3916 L/mol, SCOR working group 142',
    run: oxygenMlLFromMgL,
  }),
  define({
    name: 'oxygen-from-umol-kg',
    purpose: 'Oxygen in mg/L from µmol/kg.',
    options: [needed('oxygenUmolKg', 'umol/kg', [0, 1600]), salinity, temperatureC],
    gives: 'mg/L',
    source: `31.9988 g/mol; ${EOS80}`,
    run: oxygenMgLFromUmolKg,
  }),
  define({
    name: 'oxygen-umol-kg',
    purpose: 'Oxygen in µmol/kg from mg/L.',
    options: [oxygenMgL, salinity, temperatureC],
    gives: 'umol/kg',
    source: `31.9988 g/mol; ${EOS80}`,
    run: oxygenUmolKgFromMgL,
  }),
  define({
    name: 'air-pressure',
    purpose: 'Air pressure on site from the height above sea level.',
    options: [needed('altitudeM', 'm', [-500, 5000]), assumed('seaLevelPressureKpa', 'kPa', [85, 110], ATMOSPHERE_KPA)],
    gives: 'kPa',
    source: 'standard atmosphere, ISO 2533',
    run: airPressureKpaFromAltitude,
  }),
  define({
    name: 'vapour-pressure',
    purpose: 'Pressure of water vapour over seawater.',
    options: [salinity, temperatureC],
    gives: 'kPa',
    source: 'Weiss and Price 1980, Marine Chemistry 8:347',
    run: vapourPressureKpa,
  }),
  define({
    name: 'unionised-ammonia',
    purpose: 'Share of ammonia that is un-ionised, the poisonous part; 0.1 pH is 25 % of it.',
    options: [
      needed('ph', '1', [4, 11]),
      needed('salinity', '1', [0, 40]),
      needed('temperatureC', '°C', [0, 40]),
      choice('phScale', ['nbs', 'total'], 'nbs'),
    ],
    gives: '1',
    source:
      'NBS buffers: Bell and others 2008, below salinity 5 Emerson and others 1975; total scale: Clegg and Whitfield 1995',
    digits: 2,
    fit: { equation: 'ammonia' },
    run: unionisedAmmoniaFraction,
  }),
];
