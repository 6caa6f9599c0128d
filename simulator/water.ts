import { meanOf, type Pair } from './linear-step.js';
import { oxygenAtSaturation } from './seawater.js';
import type { Tank } from './tank.js';

/** One tank's water: two layers of equal volume, which are one while air or flow stirs them. */
export type Water = {
  readonly volumeL: number;
  readonly salinity: number;
  readonly temperatureC: Pair;
  readonly oxygenMgL: Pair;
  readonly heaterOn: boolean;
  readonly chillerOn: boolean;
  /** Emptied and not yet full again: the fill valve is open as soon as the drain is shut. */
  readonly filling: boolean;
  /** Food in the water, 1 = one full meal. */
  readonly food: number;
  /** Organic load of the bed, 1 = washed. */
  readonly bedLoad: number;
  /** What runs in at the moment, L/min. */
  readonly inflowLMin: number;
  /** Bubbles rise in it. */
  readonly airOn: boolean;
};

export type Inflow = { readonly temperatureC: number; readonly salinity: number; readonly oxygenMgL: number };

/** Who decides over heater or chiller: its thermostat, a welded contact (`on`), or nobody, it is dead (`off`). */
export type Switch = 'thermostat' | 'on' | 'off';

/** Everything that acts on a tank from outside during one step. */
export type Surroundings = {
  readonly roomC: number;
  /** 0 to 1. */
  readonly humidity: number;
  /** 0 at night, 1 in full light. */
  readonly light: number;
  readonly supply: Inflow;
  /** What the supply can give through the flow valve and through the fill valve now, L/min. */
  readonly flowLMin: number;
  readonly fillLMin: number;
  readonly drainLMin: number;
  readonly leakLMin: number;
  readonly airOn: boolean;
  readonly heater: Switch;
  readonly chiller: Switch;
  /** Meals per hour going in. */
  readonly feedingPerH: number;
  /** Bed load per hour gathering. */
  readonly foulingPerH: number;
};

/** A full tank at rest. */
export const stillWater = (tank: Tank, temperatureC: number, salinity: number, saturation = 0.97): Water => {
  const oxygenMgL = saturation * oxygenAtSaturation(temperatureC, salinity);
  return {
    volumeL: tank.volumeL,
    salinity,
    temperatureC: { upper: temperatureC, lower: temperatureC },
    oxygenMgL: { upper: oxygenMgL, lower: oxygenMgL },
    heaterOn: false,
    chillerOn: false,
    filling: false,
    food: 0,
    bedLoad: 1,
    inflowLMin: 0,
    airOn: true,
  };
};

/** Mean temperature and oxygen of the two layers: what a bucket drawn from top to bottom would show. */
export const mixed = (water: Water): { readonly temperatureC: number; readonly oxygenMgL: number } => ({
  temperatureC: meanOf(water.temperatureC),
  oxygenMgL: meanOf(water.oxygenMgL),
});
