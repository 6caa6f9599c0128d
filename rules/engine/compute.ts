import type { Answer } from '../answer.js';
import type { Quantity } from '../quantity.js';
import { oxygenMgLFromSaturation, oxygenSaturationPct } from '../seawater/oxygen.js';
import { practicalSalinityFromConductivity } from '../seawater/salinity.js';
import { salinityFromSpecificConductance, USUAL_COMPENSATION_PCT_PER_C } from '../seawater/specific-conductance.js';

/** Values of one water at one moment, canonical units; what is not known is absent. */
export type Known = { readonly [quantity in Quantity]?: number };

export type Computation = {
  readonly gives: Quantity;
  /** The input whose reading starts it, and gives it its time. */
  readonly from: Quantity;
  readonly needs: readonly Quantity[];
  readonly run: (known: Known, pressureKpa: number) => Answer | undefined;
};

/**
 * What is computed from what, in the order in which one feeds the next. The live engine, replay and history all use this
 * one list. A probe that is said to send specific conductance is undone with the slope probes commonly come with.
 */
export const COMPUTATIONS: readonly Computation[] = [
  {
    gives: 'salinity',
    from: 'conductivity',
    needs: ['temperature'],
    run: ({ conductivity, temperature }) =>
      conductivity === undefined || temperature === undefined
        ? undefined
        : practicalSalinityFromConductivity({ conductivityMsCm: conductivity, temperatureC: temperature }),
  },
  {
    gives: 'salinity',
    from: 'specific-conductance',
    needs: ['temperature'],
    run: ({ 'specific-conductance': specificConductanceMsCm, temperature: temperatureC }) =>
      specificConductanceMsCm === undefined || temperatureC === undefined
        ? undefined
        : salinityFromSpecificConductance({
            specificConductanceMsCm,
            temperatureC,
            compensationPctPerC: USUAL_COMPENSATION_PCT_PER_C,
          }),
  },
  {
    gives: 'oxygen-saturation',
    from: 'oxygen-mg-l',
    needs: ['temperature', 'salinity'],
    run: ({ 'oxygen-mg-l': oxygenMgL, temperature: temperatureC, salinity }, pressureKpa) =>
      oxygenMgL === undefined || temperatureC === undefined || salinity === undefined
        ? undefined
        : oxygenSaturationPct({ oxygenMgL, salinity, temperatureC, pressureKpa }),
  },
  {
    gives: 'oxygen-mg-l',
    from: 'oxygen-saturation',
    needs: ['temperature', 'salinity'],
    run: ({ 'oxygen-saturation': saturationPct, temperature: temperatureC, salinity }, pressureKpa) =>
      saturationPct === undefined || temperatureC === undefined || salinity === undefined
        ? undefined
        : oxygenMgLFromSaturation({ saturationPct, salinity, temperatureC, pressureKpa }),
  },
];

/** Which quantities can be computed where these are measured, each with its computation. */
export const computationsAt = (measured: ReadonlySet<Quantity>): readonly Computation[] => {
  const known = new Set(measured);
  return COMPUTATIONS.filter(({ gives, from, needs }) => {
    if (known.has(gives) || ![from, ...needs].every((quantity) => known.has(quantity))) return false;
    known.add(gives);
    return true;
  });
};
