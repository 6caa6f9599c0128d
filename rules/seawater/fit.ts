import type { Range } from './range.js';

/**
 * Where the measurements ended that each equation was fitted to (for ammonia: where it has been compared with published
 * tables, and a little around). An answer outside is still an answer, but a screen that shows it says "beyond the
 * measured range". Sources as in the file of each equation.
 */
const FITTED = {
  'practical-salinity': { temperatureC: [-2, 35], salinity: [0, 42] },
  density: { temperatureC: [-2, 40], salinity: [0, 42] },
  oxygen: { temperatureC: [0, 40], salinity: [0, 42], saturationPct: [0, 150] },
  ammonia: { temperatureC: [5, 30], salinity: [5, 40], ph: [6, 9.5] },
} as const satisfies Readonly<Record<string, Readonly<Record<string, Range>>>>;

export type SeawaterEquation = keyof typeof FITTED;

/**
 * The arguments or results, by name, that lie beyond what the equation was fitted to; none is the good case.
 * Source: as in the file of each equation. Check: density at salinity 45 and 20 °C lies beyond in salinity alone.
 */
export const beyondFit = (equation: SeawaterEquation, values: Readonly<Record<string, number>>): readonly string[] => {
  const fitted: Readonly<Record<string, Range>> = FITTED[equation];
  return Object.entries(values).flatMap(([what, value]) => {
    const range = fitted[what];
    return range === undefined || (value >= range[0] && value <= range[1]) ? [] : [what];
  });
};
