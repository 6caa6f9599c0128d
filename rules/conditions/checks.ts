import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';

/**
 * What to check first, in order, as codes that rules/words says. It fits the regime: a static larval tank is not told to
 * open a header. Electricity comes before hands in water, always. Common practice, no source.
 */
export const checksFor = (side: 'low' | 'high', quantity: Quantity | undefined, place: Place): readonly string[] => {
  const flows = place.regime === 'flow-through';
  switch (quantity) {
    case 'temperature':
      return side === 'high'
        ? ['heater-off-at-wall', 'air-running', flows ? 'flow-up' : 'cool-slowly-sealed-ice', 'hand-thermometer']
        : ['heater-supply', flows ? 'header-temperature' : 'room-and-lid', 'warm-slowly', 'hand-thermometer'];
    case 'salinity':
    case 'conductivity':
    case 'specific-conductance':
      return side === 'high'
        ? ['hand-salinity', 'top-up-slowly']
        : ['hand-salinity', flows ? 'intake-rain' : 'fresh-water-valve', 'probe-bubble'];
    case 'oxygen-mg-l':
    case 'oxygen-saturation':
      return side === 'high'
        ? ['degas', 'hand-oxygen']
        : [
            'air-running',
            ...(flows ? ['flow-running'] : []),
            'stir-gently',
            ...(place.bed === undefined ? [] : ['bed-smell']),
            'hand-oxygen',
          ];
    case 'level':
      return side === 'low' ? ['heater-off-at-wall', 'leak-or-standpipe'] : ['drain-or-screen'];
    default:
      return ['look-at-tank'];
  }
};
