import { stepSingle } from './linear-step.js';
import { seedFrom, wanderAt } from './random.js';
import { oxygenAtSaturation } from './seawater.js';
import type { Inflow } from './water.js';
import { type Climate, sunHourAt } from './weather.js';

/** A supply line: intake, pump and header tank. */
export type Line = {
  readonly id: string;
  readonly circuit: string;
  readonly sea: Sea;
  readonly headerL: number;
  readonly headerDepthM: number;
  readonly pumpLMin: number;
  /** The header is warmed to this while there is power; undefined for water as it comes. */
  readonly warmedToC: number | undefined;
  /** Oxygen of the header, share of saturation. */
  readonly oxygenShare: number;
};

/** The sea in front of the intake. */
export type Sea = {
  readonly meanC: number;
  readonly dayC: number;
  readonly tideC: number;
  readonly salinity: number;
  readonly tideSalinity: number;
  /** Salinity lost at the intake for each millimetre of rain still running off the land. */
  readonly perMmRunoff: number;
};

export type Supply = {
  readonly headerL: number;
  readonly temperatureC: number;
  readonly salinity: number;
  /** Rain that has fallen and not yet run past the intake, mm. */
  readonly runoffMm: number;
  /** What the tanks take from it, L/min. */
  readonly drawnLMin: number;
};

export type SupplyAround = {
  readonly climate: Climate;
  readonly atMs: number;
  readonly rainMmH: number;
  readonly pumpOn: boolean;
  readonly powered: boolean;
  readonly drawLMin: number;
};

const HOUR_MS = 3_600_000;
/** Principal lunar and the larger daily constituent of the tide, hours. */
const M2_H = 12.4206;
const K1_H = 23.9345;
const RUNOFF_GONE_PER_H = 0.25;
const WARMED_PER_H = 4;

/** -1 at low water to 1 at high water. */
export const tideAt = (atMs: number): number => {
  const hours = atMs / HOUR_MS;
  return 0.77 * Math.sin((2 * Math.PI * hours) / M2_H) + 0.23 * Math.sin((2 * Math.PI * hours) / K1_H);
};

/** The sea at the intake before rain: warmer in the afternoon, fresher and warmer at low water, and slow spells. */
export const seaAt = (sea: Sea, climate: Climate, atMs: number): { temperatureC: number; salinity: number } => {
  const day = Math.cos((2 * Math.PI * (sunHourAt(climate, atMs) - 16.5)) / 24);
  const spell = wanderAt(seedFrom(climate.seed, 'sea'), atMs, 80 * HOUR_MS);
  const tide = tideAt(atMs);
  return {
    temperatureC: sea.meanC + sea.dayC * day - sea.tideC * tide + 0.5 * spell,
    salinity: sea.salinity + sea.tideSalinity * tide + 0.15 * spell,
  };
};

export const stepSupply = (supply: Supply, line: Line, around: SupplyAround, dtS: number): Supply => {
  const dtH = dtS / 3600;
  const runoffMm = stepSingle(supply.runoffMm, around.rainMmH, RUNOFF_GONE_PER_H, dtH);
  const sea = seaAt(line.sea, around.climate, around.atMs);
  const room = Math.max(0, line.headerL - supply.headerL) / (dtS / 60);
  const pumpedLMin = around.pumpOn ? Math.min(line.pumpLMin, around.drawLMin + room) : 0;
  const headerL = Math.max(0, supply.headerL + ((pumpedLMin - around.drawLMin) * dtS) / 60);
  const dilution = (60 * pumpedLMin) / Math.max(line.headerL * 0.05, (supply.headerL + headerL) / 2);
  const warming = line.warmedToC !== undefined && around.powered ? WARMED_PER_H + 3 * dilution : 0;
  const warmed = warming * (line.warmedToC ?? 0);
  const seaSalinity = Math.max(0, sea.salinity - line.sea.perMmRunoff * runoffMm);
  return {
    headerL,
    runoffMm,
    drawnLMin: headerL > 0 ? around.drawLMin : 0,
    temperatureC: stepSingle(supply.temperatureC, dilution * sea.temperatureC + warmed, dilution + warming, dtH),
    salinity: stepSingle(supply.salinity, dilution * seaSalinity, dilution, dtH),
  };
};

/** What the header gives to a tank; undefined when it has run dry. */
export const inflowFrom = (supply: Supply, line: Line): Inflow | undefined =>
  supply.headerL < line.headerL * 0.01
    ? undefined
    : {
        temperatureC: supply.temperatureC,
        salinity: supply.salinity,
        oxygenMgL: line.oxygenShare * oxygenAtSaturation(supply.temperatureC, supply.salinity),
      };
