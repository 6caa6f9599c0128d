import type { Bed } from '../place.js';
import { oxygenSolubilityMgL } from '../seawater/oxygen.js';
import type { BedCalibration } from './calibration.js';
import { BED_DEFAULTS } from './defaults.js';
import type { BedNow } from './penetration.js';
import { bedSettings } from './settings.js';

const DAY_MS = 86_400_000;

/** A layer that was looked at, as it is reckoned with. The doubts of that day do not change the reckoning. */
const calibrationOf = ({ calibration }: Bed): BedCalibration | undefined =>
  calibration === undefined
    ? undefined
    : {
        sight: { kind: calibration.kind, depthMm: calibration.depthMm, atMs: calibration.atMs },
        transport: calibration.transport,
        pumped: calibration.pumped,
        doubts: [],
      };

/**
 * A bed as a person has set it, with defaults for the rest; depths m, demand mmol/m2/day.
 * Source: the standing of each default is in settings.ts. Check: sand 0.1 m deep has a porosity of 0.4 and a demand of 10.
 */
export const settingsOfBed = (bed: Bed): BedNow['bed'] => {
  const { cleanDemandMmolM2Day, throughFlowLM2H, wasteMmolCM2Day, cleanedAtMs } = bed;
  const { settings } = bedSettings(bed, {
    ...(cleanDemandMmolM2Day === undefined ? {} : { cleanDemandMmolM2Day }),
    ...(throughFlowLM2H === undefined ? {} : { throughFlowLM2H }),
    ...(wasteMmolCM2Day === undefined || cleanedAtMs === undefined
      ? {}
      : {
          waste: {
            supplyMmolCM2Day: wasteMmolCM2Day,
            leftByCleaningMmolCM2: 0,
            decayPerDay20: BED_DEFAULTS.decayPerDay20.value,
            oxygenPerCarbon: BED_DEFAULTS.oxygenPerCarbon.value,
          },
        }),
  });
  return settings;
};

export type WaterOver = {
  readonly atMs: number;
  readonly oxygenMgL: number;
  readonly temperatureC: number;
  readonly salinity: number;
  readonly pressureKpa: number;
  /** Whether water is pumped through the bed, where a probe says it. */
  readonly pumped?: boolean | undefined;
};

/**
 * A bed with the water over it at a moment; undefined where the salinity is none that oxygen dissolves in.
 * Oxygen mg/L, temperature °C, pressure kPa. Source: solubility at 20 °C of Garcia and Gordon 1992 (../seawater/oxygen.ts).
 * Check: salinity 35 at 101.325 kPa: 7.394963 mg/L.
 */
export const bedUnder = (
  { bed, aerated }: { readonly bed: Bed; readonly aerated?: boolean | undefined },
  { atMs, oxygenMgL, temperatureC, salinity, pressureKpa, pumped }: WaterOver,
): BedNow | undefined => {
  const saturated = oxygenSolubilityMgL({ temperatureC: 20, salinity, pressureKpa });
  if (!saturated.ok) return undefined;
  const settings = settingsOfBed(bed);
  const isPumped = pumped ?? settings.throughFlowLM2H > 0;
  const { cleanedAtMs } = bed;
  return {
    bed: settings,
    atMs,
    calibration: calibrationOf(bed),
    water: {
      oxygenMgL: Math.max(0, oxygenMgL),
      temperatureC,
      salinity,
      solubilityAt20MgL: saturated.value,
      filmMm: isPumped || aerated !== false ? BED_DEFAULTS.filmAeratedMm.value : BED_DEFAULTS.filmFlowStoppedMm.value,
      throughFlowLM2H: isPumped ? settings.throughFlowLM2H : 0,
      ...(cleanedAtMs === undefined ? {} : { daysSinceCleaning: Math.max(0, (atMs - cleanedAtMs) / DAY_MS) }),
    },
  };
};
