import { impossible, type Refusal, refusalFor } from '../answer.js';
import type { Bed } from '../place.js';
import { OXYGEN_MG_L } from '../seawater/range.js';
import { BED_DEFAULTS, DEMAND_MMOL_M2_DAY, POROSITY } from './defaults.js';
import { DIFFUSIVITY_RANGES } from './diffusivity.js';
import { LOAD_RANGES } from './load.js';
import { POROSITY_RANGE } from './tortuosity.js';

/** What is known of a bed, whatever water is over it. */
export type BedSettings = {
  readonly depthM: number;
  readonly porosity: number;
  /** Demand when clean, in saturated water at 20 °C. Best measured: the decline in a closed chamber on the bed. */
  readonly cleanDemandMmolM2Day: number;
  readonly q10: number;
  /** Film and flow through the bed as they are when all runs. */
  readonly filmMm: number;
  readonly throughFlowLM2H: number;
  /** Left out while the supply of waste is not known: then time since cleaning plays no part, and the answer says so. */
  readonly waste?: Waste;
};

export type Waste = {
  readonly supplyMmolCM2Day: number;
  readonly leftByCleaningMmolCM2: number;
  readonly decayPerDay20: number;
  readonly oxygenPerCarbon: number;
};

/** The water over the bed now. */
export type BedWater = {
  readonly oxygenMgL: number;
  readonly temperatureC: number;
  readonly salinity: number;
  /** Oxygen at saturation at 20 °C for this salinity and the air pressure of the site; from seawater/oxygen.ts. */
  readonly solubilityAt20MgL: number;
  /** 0.5 mm in moving water, 1 mm when the flow has stopped. */
  readonly filmMm: number;
  /** 0 when the pump through the bed is off. */
  readonly throughFlowLM2H: number;
  readonly daysSinceCleaning?: number;
};

/**
 * The settings of a bed, with the defaults of defaults.ts for what nobody has set; `assumed` names those.
 * Source: as each default says. Check: sand 0.15 m deep: porosity 0.4, demand 10 mmol/m2/day, all 5 assumed.
 */
export const bedSettings = (
  bed: Bed,
  own: Partial<Omit<BedSettings, 'depthM' | 'porosity'>> = {},
): { readonly settings: BedSettings; readonly assumed: readonly string[] } => {
  const known = { ...(bed.porosity === undefined ? {} : { porosity: bed.porosity }), ...own };
  const defaults = {
    porosity: POROSITY[bed.kind].value,
    cleanDemandMmolM2Day: DEMAND_MMOL_M2_DAY.clean.value,
    q10: BED_DEFAULTS.q10.value,
    filmMm: BED_DEFAULTS.filmAeratedMm.value,
    throughFlowLM2H: 0,
  };
  const assumed = Object.keys(defaults).filter((name) => !Object.hasOwn(known, name));
  return { settings: { ...defaults, depthM: bed.depthM, ...known }, assumed };
};

/**
 * The first setting or reading outside its range, or a load without a cleaning to count from.
 * Answers for a bed of 0.001 to 2 m, porosity 0.2 to 0.95, demand 0.1 to 1000 mmol/m2/day, Q10 1 to 5, film 0 to 5 mm,
 * flow 0 to 10,000 L/m2/h; oxygen 0 to 50 mg/L, 0 to 35 °C, salinity 0 to 42.
 * With waste: supply 0 to 1e5 mmol C/m2/day, decay 0.01 to 2 per day, 0.1 to 3 of oxygen for each carbon, 0 to 3650 days.
 * Source: diffusivity.ts, load.ts and tortuosity.ts for theirs; the rest judgement, no source.
 * Check: porosity 0.1 is refused.
 */
export const refusalForBed = ({ waste, ...bed }: BedSettings, water: BedWater): Refusal | undefined => {
  const refusal =
    refusalFor({ ...bed }, RANGES) ?? refusalFor({ ...(waste ?? {}) }, RANGES) ?? refusalFor({ ...water }, RANGES);
  if (refusal !== undefined) return refusal;
  return waste !== undefined && water.daysSinceCleaning === undefined
    ? impossible('cleaning-not-logged').fault
    : undefined;
};

const RANGES = {
  depthM: [0.001, 2],
  porosity: POROSITY_RANGE,
  cleanDemandMmolM2Day: [0.1, 1000],
  q10: [1, 5],
  filmMm: [0, 5],
  throughFlowLM2H: [0, 10_000],
  supplyMmolCM2Day: LOAD_RANGES.supplyMmolCM2Day,
  leftByCleaningMmolCM2: LOAD_RANGES.loadMmolCM2,
  decayPerDay20: [0.01, 2],
  oxygenPerCarbon: [0.1, 3],
  oxygenMgL: OXYGEN_MG_L,
  ...DIFFUSIVITY_RANGES,
  solubilityAt20MgL: [3, 12],
  daysSinceCleaning: LOAD_RANGES.days,
} as const;
