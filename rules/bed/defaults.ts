import type { Bed } from '../place.js';
import type { Standing } from '../stage/standing.js';

/** A starting value for a bed, with how far it can be trusted. Measure and replace where you can. */
export type BedDefault = {
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  readonly standing: Standing;
  readonly source?: string;
};

/** Share of the volume that is water. Measure: the water that fills the pores of a known volume. */
export const POROSITY: { readonly [kind in Bed['kind']]: BedDefault } = {
  sand: { value: 0.4, low: 0.35, high: 0.45, standing: 'practice' },
  aragonite: { value: 0.45, low: 0.4, high: 0.5, standing: 'practice' },
};

/** Oxygen demand of the bed alone in saturated water at 20 °C, mmol/m2/day. */
export const DEMAND_MMOL_M2_DAY = {
  clean: { value: 10, low: 5, high: 15, standing: 'practice' },
  'in-use': { value: 20, low: 15, high: 30, standing: 'practice' },
  fouled: { value: 45, low: 30, high: 60, standing: 'practice' },
} as const satisfies Readonly<Record<string, BedDefault>>;

export const BED_DEFAULTS = {
  /** Of the demand of the bed. Range: apparent values of an intertidal flat. */
  q10: {
    value: 2,
    low: 1.3,
    high: 2.7,
    standing: 'analogy',
    source: 'Hofman and others 1991, Oosterschelde (abstract)',
  },
  /** Still film of water on the bed. Measured 0.59 to 0.16 mm for 0.3 to 7.7 cm/s (Jorgensen and Des Marais 1990). */
  filmAeratedMm: { value: 0.5, standing: 'practice' },
  filmFlowStoppedMm: { value: 1, standing: 'practice' },
  /** Decay of fresh biodeposits at 20 °C; the experiment's own temperature was not seen. Standard error 0.05. */
  decayPerDay20: {
    value: 0.16,
    low: 0.11,
    high: 0.21,
    standing: 'analogy',
    source: 'Giles and Pilditch 2006, mussels (abstract)',
  },
  /** mmol of oxygen for each mmol of carbon that decays. */
  oxygenPerCarbon: { value: 1, standing: 'placeholder' },
  /** Transport in still sand: molecular diffusion alone. The low end while a bed is not calibrated. */
  stillTransport: { value: 1, standing: 'practice' },
  /** High end of transport while a bed is not calibrated; moved sand has been inferred at 7 to 190. */
  highTransport: { value: 10, standing: 'practice' },
  /** While not calibrated the low end is halved once more: all demand might sit at the bottom of the layer. */
  lowEndShare: { value: 0.5, standing: 'practice' },
  /** A calibrated depth is held to be right within this factor; errors of 3 to 10 are to be expected without one. */
  calibratedFactor: { value: 2, standing: 'practice' },
  calibrationDays: { value: 30, standing: 'practice' },
  /** Depth as a share of the same bed's when clean: warn and alarm below. */
  warnShareOfClean: { value: 0.6, standing: 'practice' },
  alarmShareOfClean: { value: 0.4, standing: 'practice' },
} as const satisfies Readonly<Record<string, BedDefault>>;
