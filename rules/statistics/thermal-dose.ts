import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';

/**
 * Thermal death time: log10 of survival falls in a straight line with temperature (Rezende and others 2014).
 * No published line for bivalves was found. Use it only with two survival times of the same species and stock;
 * otherwise plain degree-hours and hours above the limit are the measure.
 */
export type ThermalDeathLine = {
  /** Time to half dead at the lower of the two temperatures, and the temperature. */
  readonly survivalHours: number;
  readonly atC: number;
  /** Degrees that shorten survival tenfold. */
  readonly zC: number;
  /** Nothing is counted below: the line must not be carried to mild temperatures. */
  readonly countedFromC: number;
};

export type Survival = { readonly temperatureC: number; readonly hours: number };

const RANGES = { temperatureC: [-5, 60], hours: [1e-4, 1e5], marginC: [0, 10], spentHours: [0, 1e6] } as const;

/**
 * The line through two survival times; `marginC` is how far below the lower temperature it is still believed.
 * Answers for -5 to 60 °C, 0.0001 to 100,000 h, a margin of 0 to 10 °C and a z of 0.01 to 100 °C.
 * Source: Rezende and others 2014. Check (an invented animal): 200 h at 30 °C and 5 h at 34 °C give z 2.496785 °C.
 */
export const thermalDeathLine = ({
  cooler,
  warmer,
  marginC,
}: {
  readonly cooler: Survival;
  readonly warmer: Survival;
  readonly marginC: number;
}): Answer<ThermalDeathLine> => {
  const refusal =
    refusalFor({ ...cooler }, RANGES) ?? refusalFor({ ...warmer }, RANGES) ?? refusalFor({ marginC }, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const decades = Math.log10(cooler.hours / warmer.hours);
  const zC = (warmer.temperatureC - cooler.temperatureC) / decades;
  // A z below a hundredth of a degree or above 100 is no thermal death: the two times were mixed up or hardly differ.
  if (!(zC >= 0.01 && zC <= 100)) return impossible('survival-not-falling');
  const { hours: survivalHours, temperatureC: atC } = cooler;
  return ok({ survivalHours, atC, zC, countedFromC: atC - marginC });
};

/**
 * Hours to half dead. Answers for `countedFromC` to 60 °C.
 * Source: Rezende and others 2014. Check: the animal above at 32 °C, 31.622777 h.
 */
export const survivalHoursAt = (line: ThermalDeathLine, temperatureC: number): Answer => {
  const refusal = refusalFor({ temperatureC }, { temperatureC: [line.countedFromC, 60] });
  return refusal === undefined ? ok(hoursAt(line, temperatureC)) : refuse(refusal);
};

/**
 * The dose of several spells, each at one temperature; 1 is the time at which half would be dead.
 * Answers for -5 to 60 °C and 0 to 1e6 h. Source: Rezende and others 2014.
 * Check: the animal above, 10 h at 31, 2 h at 33 and 20 h at 30 °C, 0.384797.
 */
export const thermalDose = (line: ThermalDeathLine, spells: readonly Survival[]): Answer => {
  let dose = 0;
  for (const { temperatureC, hours } of spells) {
    const refusal = refusalFor({ temperatureC, spentHours: hours }, RANGES);
    if (refusal !== undefined) return refuse(refusal);
    if (temperatureC >= line.countedFromC) dose += hours / hoursAt(line, temperatureC);
  }
  return Number.isFinite(dose) ? ok(dose) : impossible('survival-not-falling');
};

const hoursAt = (line: ThermalDeathLine, temperatureC: number): number =>
  line.survivalHours * 10 ** (-(temperatureC - line.atC) / line.zC);
