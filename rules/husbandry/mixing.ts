import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { SALINITY, TEMPERATURE_C, VOLUME_L } from './range.js';

/**
 * Litres of two waters that give a final volume at a salinity between theirs; by volume, which is within about 0.5 % of
 * by mass.
 * Answers for 0.001 to 10 million L and salinity 0 to 50.
 * Check value: 2,000 L at 28 from 34 and fresh: 352.9 + 1,647.1 L. Source: salt balance.
 */
export const diluteToVolume = (water: {
  readonly finalVolumeL: number;
  readonly sourceSalinity: number;
  readonly targetSalinity: number;
  readonly diluentSalinity: number;
}): Answer<{ readonly diluentL: number; readonly sourceL: number }> => {
  const { finalVolumeL, sourceSalinity, targetSalinity, diluentSalinity } = water;
  const refusal = refusalFor(
    { finalVolumeL, sourceSalinity, targetSalinity, diluentSalinity },
    { finalVolumeL: VOLUME_L, sourceSalinity: SALINITY, targetSalinity: SALINITY, diluentSalinity: SALINITY },
  );
  if (refusal !== undefined) return refuse(refusal);
  const share = shareBetween(targetSalinity, sourceSalinity, diluentSalinity);
  if (share === undefined) {
    return impossible('target-not-between', {
      targetSalinity,
      firstSalinity: sourceSalinity,
      secondSalinity: diluentSalinity,
    });
  }
  return ok({ diluentL: finalVolumeL * share, sourceL: finalVolumeL * (1 - share) });
};

/** How far a target lies from one value towards another, 0 to 1; none outside them, or when the two are the same. */
const shareBetween = (target: number, from: number, to: number): number | undefined => {
  const share = (target - from) / (to - from);
  return share >= 0 && share <= 1 ? share : undefined;
};

/**
 * Salinity and temperature of two waters mixed, weighted by volume.
 * Answers for 0.001 to 10 million L, salinity 0 to 50 and -2 to 45 °C.
 * Check value: 300 L at 34 and 12 °C with 700 L at 31 and 26 °C: 31.9 and 21.8 °C. Source: arithmetic; within about 0.5
 * % of weighting by mass at these salinities.
 */
export const mixTwoWaters = (waters: {
  readonly volumeAL: number;
  readonly salinityA: number;
  readonly temperatureAC: number;
  readonly volumeBL: number;
  readonly salinityB: number;
  readonly temperatureBC: number;
}): Answer<{ readonly salinity: number; readonly temperatureC: number }> => {
  const refusal = refusalFor(
    { ...waters },
    {
      volumeAL: VOLUME_L,
      salinityA: SALINITY,
      temperatureAC: TEMPERATURE_C,
      volumeBL: VOLUME_L,
      salinityB: SALINITY,
      temperatureBC: TEMPERATURE_C,
    },
  );
  if (refusal !== undefined) return refuse(refusal);
  const { volumeAL, salinityA, temperatureAC, volumeBL, salinityB, temperatureBC } = waters;
  const volumeL = volumeAL + volumeBL;
  return ok({
    salinity: (volumeAL * salinityA + volumeBL * salinityB) / volumeL,
    temperatureC: (volumeAL * temperatureAC + volumeBL * temperatureBC) / volumeL,
  });
};

/**
 * Salinity after evaporation, and the fresh water to put back. S2 = S1 V1/V2.
 * Answers for salinity 0 to 50 and 0.001 to 10 million L.
 * Check value: 400 L at 31 down to 388 L: 31.96, 12 L. Source: salt balance.
 */
export const evaporation = (tank: {
  readonly startSalinity: number;
  readonly startVolumeL: number;
  readonly endVolumeL: number;
}): Answer<{ readonly salinity: number; readonly freshWaterL: number }> => {
  const { startSalinity, startVolumeL, endVolumeL } = tank;
  const refusal = refusalFor(
    { startSalinity, startVolumeL, endVolumeL },
    { startSalinity: SALINITY, startVolumeL: VOLUME_L, endVolumeL: VOLUME_L },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (endVolumeL > startVolumeL) return impossible('volume-grew', { startVolumeL, endVolumeL });
  return ok({ salinity: (startSalinity * startVolumeL) / endVolumeL, freshWaterL: startVolumeL - endVolumeL });
};

/**
 * Salinity of an open tank after rain, all of it mixed in. S2 = S1 depth / (depth + rain).
 * Answers for salinity 0 to 50, 1 to 100,000 mm of water and 0 to 2000 mm of rain.
 * Check value: 30, 250 mm of water, 40 mm of rain: 25.86. Source: salt balance.
 */
export const afterRain = (tank: {
  readonly startSalinity: number;
  readonly waterDepthMm: number;
  readonly rainMm: number;
}): Answer => {
  const { startSalinity, waterDepthMm, rainMm } = tank;
  const refusal = refusalFor(
    { startSalinity, waterDepthMm, rainMm },
    { startSalinity: SALINITY, waterDepthMm: [1, 100_000], rainMm: [0, 2000] },
  );
  return refusal === undefined ? ok((startSalinity * waterDepthMm) / (waterDepthMm + rainMm)) : refuse(refusal);
};
