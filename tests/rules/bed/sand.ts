import type { BedCalibration } from '../../../rules/bed/calibration.js';
import type { BedSettings, BedWater, Waste } from '../../../rules/bed/settings.js';

/** A clam tank with 15 cm of sand, as the tests of the bed use it. */
export const SAND: BedSettings = {
  depthM: 0.15,
  porosity: 0.4,
  cleanDemandMmolM2Day: 10,
  q10: 2,
  filmMm: 0.5,
  throughFlowLM2H: 0,
};

export const WATER: BedWater = {
  oxygenMgL: 6.5,
  temperatureC: 20,
  salinity: 35,
  solubilityAt20MgL: 7.395,
  filmMm: 0.5,
  throughFlowLM2H: 0,
};

export const WASTE: Waste = {
  supplyMmolCM2Day: 15,
  leftByCleaningMmolCM2: 0,
  decayPerDay20: 0.16,
  oxygenPerCarbon: 1,
};

export const calibrated = (transport: number): BedCalibration => ({
  sight: { kind: 'core', depthMm: 10, atMs: 0 },
  transport,
  pumped: false,
  doubts: [],
});

export const DAY_MS = 86_400_000;
