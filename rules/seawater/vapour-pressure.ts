import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { ATMOSPHERE_KPA, outside, SALINITY, TEMPERATURE_C } from './range.js';
import { IPTS68_PER_ITS90 } from './temperature-scale.js';

/**
 * Pressure of water vapour over seawater, kPa, from practical salinity and °C (ITS-90).
 * Answers for salinity 0 to 50 and -2 to 45 °C. Source: Weiss and Price 1980, Marine Chemistry 8:347, equation 10.
 * Check value: salinity 35 at 20 °C is 2.29291 kPa.
 */
export const vapourPressureKpa = ({
  salinity,
  temperatureC,
}: {
  readonly salinity: number;
  readonly temperatureC: number;
}): Answer => {
  const refusal = outside('salinity', salinity, SALINITY) ?? outside('temperatureC', temperatureC, TEMPERATURE_C);
  if (refusal !== undefined) return refuse(refusal);
  return ok(ATMOSPHERE_KPA * weissPriceAtm({ salinity, ipts68C: temperatureC * IPTS68_PER_ITS90 }));
};

/**
 * The bare equation in standard atmospheres, for callers that have already refused what is out of range.
 * Source: as above. Check value: salinity 35 at 20 °C (t68) is 0.0226226.
 */
export const weissPriceAtm = ({
  salinity,
  ipts68C,
}: {
  readonly salinity: number;
  readonly ipts68C: number;
}): number => {
  const hundredKelvin = (ipts68C + 273.15) / 100;
  return Math.exp(24.4543 - 67.4509 / hundredKelvin - 4.8489 * Math.log(hundredKelvin) - 0.000544 * salinity);
};
