import type { BedCalibration } from '../bed/calibration.js';
import { BED_DEFAULTS } from '../bed/defaults.js';
import { type BedNow, oxygenPenetration, type Penetration } from '../bed/penetration.js';
import { bedSettings } from '../bed/settings.js';
import type { Bed } from '../place.js';
import { oxygenSolubilityMgL } from '../seawater/oxygen.js';
import type { Sight } from './condition.js';
import { heldLevel } from './habit.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

const DAY_MS = 86_400_000;
/** Of its usual flow; a flow probe trembles about zero. Common practice, no source. */
const STANDING_SHARE = 0.15;

/** A layer that was looked at, as rules/bed keeps it. The doubts of that day do not change the reckoning. */
const calibrationOf = ({ calibration }: Bed): BedCalibration | undefined =>
  calibration === undefined
    ? undefined
    : {
        sight: { kind: calibration.kind, depthMm: calibration.depthMm, atMs: calibration.atMs },
        transport: calibration.transport,
        pumped: calibration.pumped,
        doubts: [],
      };

const settingsOf = (bed: Bed): BedNow['bed'] => {
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

/** Whether water is pumped through the bed: by its own flow probe; undefined where none says it. */
export const isBedPumped = ({ view, place, nowMs }: Sight): boolean | undefined => {
  const channel = channelAt(view.spotOf(place.id), 'flow', 'bed');
  if (channel === undefined || !isLive(channel.now, nowMs)) return undefined;
  const usual = heldLevel(channel.now, nowMs);
  return channel.now.value > (usual === undefined ? 0 : STANDING_SHARE * usual);
};

/** The bed and the water over it now; undefined where a reading is missing, or nothing is known of a bed. */
export const bedNow = (sight: Sight): BedNow | undefined => {
  const { place, nowMs, view } = sight;
  const [oxygen, temperature, salinity] = [
    sight.beside('oxygen-mg-l'),
    sight.beside('temperature'),
    sight.beside('salinity'),
  ];
  if (place.bed === undefined) return undefined;
  if (!isLive(oxygen, nowMs) || !isLive(temperature, nowMs) || !isLive(salinity, nowMs)) return undefined;
  const saturated = oxygenSolubilityMgL({ temperatureC: 20, salinity: salinity.value, pressureKpa: view.pressureKpa });
  if (!saturated.ok) return undefined;
  const bed = settingsOf(place.bed);
  const pumped = isBedPumped(sight) ?? bed.throughFlowLM2H > 0;
  const { cleanedAtMs } = place.bed;
  return {
    bed,
    atMs: nowMs,
    calibration: calibrationOf(place.bed),
    water: {
      oxygenMgL: Math.max(0, oxygen.value),
      temperatureC: temperature.value,
      salinity: salinity.value,
      solubilityAt20MgL: saturated.value,
      filmMm:
        pumped || place.aerated !== false ? BED_DEFAULTS.filmAeratedMm.value : BED_DEFAULTS.filmFlowStoppedMm.value,
      throughFlowLM2H: pumped ? bed.throughFlowLM2H : 0,
      ...(cleanedAtMs === undefined ? {} : { daysSinceCleaning: Math.max(0, (nowMs - cleanedAtMs) / DAY_MS) }),
    },
  };
};

export const penetrationOf = (now: BedNow | undefined): Penetration | undefined => {
  const answer = now === undefined ? undefined : oxygenPenetration(now);
  return answer?.ok === true ? answer.value : undefined;
};
