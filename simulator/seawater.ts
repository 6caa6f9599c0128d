/**
 * Short formulas for simulated seawater. They are deliberately not the equations that judge the readings: each is our
 * own least-squares fit, in another form, with a known difference from the published equations, so that an error in
 * those cannot hide behind the same error here. tests/simulator/seawater.test.ts holds the differences.
 */

/**
 * Conductivity in mS/cm at the water's temperature, from practical salinity.
 * A probe calibrated by it is off by at most 0.035 in salinity against PSS-78 for salinity 10 to 40 and 4 to 34 °C.
 * Below 10 it reads up to 0.09 mS/cm low (0.861 instead of 0.912 mS/cm at salinity 0.5, 20 °C).
 */
export const conductivityFromSalinity = (salinity: number, temperatureC: number): number => {
  const root = Math.sqrt(Math.max(0, salinity));
  const t = temperatureC;
  const byTemperature = 1.0783 + t * (0.032875 + t * (0.0001305 - 6.371e-7 * t));
  return salinity * (byTemperature - root * (0.060897 + 0.0013995 * t) + 0.0031763 * salinity);
};

/**
 * Oxygen in mg/L of water in balance with moist air at one atmosphere, as the reciprocal of a polynomial.
 * Within 0.02 mg/L of Garcia and Gordon 1992 for 1 to 38 °C and salinity 0 to 42.
 */
export const oxygenAtSaturation = (temperatureC: number, salinity: number): number => {
  const t = temperatureC;
  const s = salinity;
  return 1 / (0.068265 + t * (0.0019932 + 4.7124e-6 * t + 8.5684e-6 * s) + s * (0.00047123 + 2.1644e-6 * s));
};

/** Heat to warm one litre by one kelvin, kJ: a straight line, within 1 % of TEOS-10 for 1 to 38 °C, salinity 0 to 42. */
export const heatCapacityKJPerLK = (salinity: number): number => 4.178 - 0.003 * salinity;

/** Vapour pressure over fresh water in kPa (Tetens 1930, from memory: 2.34 kPa at 20 °C). */
export const vapourPressureKPa = (temperatureC: number): number =>
  0.6108 * Math.exp((17.27 * temperatureC) / (temperatureC + 237.3));
