import type { Answer } from '../answer.js';
import type { BedCalibration } from '../bed/calibration.js';
import { BED_DEFAULTS, DEMAND_MMOL_M2_DAY, POROSITY } from '../bed/defaults.js';
import { DIFFUSIVITY_RANGES } from '../bed/diffusivity.js';
import { LOAD_RANGES } from '../bed/load.js';
import type { BedNow } from '../bed/penetration.js';
import { POROSITY_RANGE } from '../bed/tortuosity.js';
import { ok } from '../result.js';
import { oxygenSolubilityMgL } from '../seawater/oxygen.js';
import { AIR_PRESSURE_KPA, ATMOSPHERE_KPA, OXYGEN_MG_L } from '../seawater/range.js';
import { assumed, needed, optional } from './define.js';

const porosity = assumed('porosity', '1', POROSITY_RANGE, POROSITY.sand.value);

/** Bed and water; waste plays a part only when its supply is given. */
export const BED_OPTIONS = [
  needed('oxygenMgL', 'mg/L', OXYGEN_MG_L),
  needed('temperatureC', '°C', DIFFUSIVITY_RANGES.temperatureC),
  needed('salinity', '1', DIFFUSIVITY_RANGES.salinity),
  needed('bedDepthM', 'm', [0.001, 2]),
  porosity,
  assumed('cleanDemandMmolM2Day', 'mmol/m2/day', [0.1, 1000], DEMAND_MMOL_M2_DAY.clean.value),
  assumed('q10', '1', [1, 5], BED_DEFAULTS.q10.value),
  assumed('filmMm', 'mm', [0, 5], BED_DEFAULTS.filmAeratedMm.value),
  assumed('throughFlowLM2H', 'L/m2/h', [0, 10_000], 0),
  assumed('pressureKpa', 'kPa', AIR_PRESSURE_KPA, ATMOSPHERE_KPA),
  optional('supplyMmolCM2Day', 'mmol C/m2/day', LOAD_RANGES.supplyMmolCM2Day),
  assumed('daysSinceCleaning', 'days', LOAD_RANGES.days, 0),
  assumed('leftByCleaningMmolCM2', 'mmol C/m2', LOAD_RANGES.loadMmolCM2, 0),
  assumed('decayPerDay20', '1/day', [0.01, 2], BED_DEFAULTS.decayPerDay20.value),
  assumed('oxygenPerCarbon', '1', [0.1, 3], BED_DEFAULTS.oxygenPerCarbon.value),
] as const;

/** What `bed-transport` gave for this bed within the last month; without it there is only a wide range. */
export const transport = optional('transport', '1', [0.01, 10_000]);

export type BedValues = {
  readonly oxygenMgL: number;
  readonly temperatureC: number;
  readonly salinity: number;
  readonly bedDepthM: number;
  readonly porosity: number;
  readonly cleanDemandMmolM2Day: number;
  readonly q10: number;
  readonly filmMm: number;
  readonly throughFlowLM2H: number;
  readonly pressureKpa: number;
  readonly supplyMmolCM2Day: number | undefined;
  readonly daysSinceCleaning: number;
  readonly leftByCleaningMmolCM2: number;
  readonly decayPerDay20: number;
  readonly oxygenPerCarbon: number;
};

export const bedNow = (values: BedValues, atTransport?: number): Answer<BedNow> => {
  const { salinity, pressureKpa, supplyMmolCM2Day, throughFlowLM2H, filmMm } = values;
  const air = oxygenSolubilityMgL({ salinity, temperatureC: 20, pressureKpa });
  if (!air.ok) return air;
  const { leftByCleaningMmolCM2, decayPerDay20, oxygenPerCarbon } = values;
  const waste =
    supplyMmolCM2Day === undefined
      ? {}
      : { waste: { supplyMmolCM2Day, leftByCleaningMmolCM2, decayPerDay20, oxygenPerCarbon } };
  return ok({
    bed: {
      depthM: values.bedDepthM,
      porosity: values.porosity,
      cleanDemandMmolM2Day: values.cleanDemandMmolM2Day,
      q10: values.q10,
      filmMm,
      throughFlowLM2H,
      ...waste,
    },
    water: {
      oxygenMgL: values.oxygenMgL,
      temperatureC: values.temperatureC,
      salinity,
      solubilityAt20MgL: air.value,
      filmMm,
      throughFlowLM2H,
      daysSinceCleaning: values.daysSinceCleaning,
    },
    calibration: atTransport === undefined ? undefined : calibrationOf(atTransport, throughFlowLM2H > 0),
    atMs: 0,
  });
};

/** Only its transport and the pump are looked at; the sight behind it stays with the person who saw it. */
const calibrationOf = (transportNow: number, pumped: boolean): BedCalibration => ({
  sight: { kind: 'core', depthMm: 1, atMs: 0 },
  transport: transportNow,
  pumped,
  doubts: [],
});
