import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { AIR_PRESSURE_KPA, ATMOSPHERE_KPA, outside, type Range } from './range.js';

const ALTITUDE_M: Range = [-500, 5000];

/** Wider than the lowest and highest air pressure ever reported at sea level (from memory: 87 and 108 kPa). */
const SEA_LEVEL_KPA: Range = [85, 110];

/**
 * Air pressure on site, kPa, from the height above sea level in m, for a hatchery without a barometer.
 * A weather report gives the pressure reduced to sea level: pass it as `seaLevelPressureKpa`, never as the pressure on
 * site (at 500 m that would be 6 % too much oxygen). Left out, it is the standard atmosphere's 101.325 kPa.
 * Answers for -500 to 5000 m and a result of 50.6625 to 111.4575 kPa, which is what the oxygen equations take.
 * Source: the standard atmosphere's formula (ISO 2533). Check value: 500 m is 95.4608 kPa.
 */
export const airPressureKpaFromAltitude = ({
  altitudeM,
  seaLevelPressureKpa = ATMOSPHERE_KPA,
}: {
  readonly altitudeM: number;
  readonly seaLevelPressureKpa?: number | undefined;
}): Answer => {
  const refusal =
    outside('altitudeM', altitudeM, ALTITUDE_M) ?? outside('seaLevelPressureKpa', seaLevelPressureKpa, SEA_LEVEL_KPA);
  if (refusal !== undefined) return refuse(refusal);
  const pressureKpa = seaLevelPressureKpa * (1 - 2.25577e-5 * altitudeM) ** 5.25588;
  const beyond = outside('pressureKpa', pressureKpa, AIR_PRESSURE_KPA);
  return beyond === undefined ? ok(pressureKpa) : refuse(beyond);
};
