import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { CheckCode } from '../words/check.js';

/*
 * What to check first, in order, as codes that rules/words says. It fits the regime: a static larval tank is not told to
 * open a header. Electricity comes before hands in water, always. Common practice, no source.
 */

const flows = ({ regime }: Place): boolean => regime === 'flow-through';

export const tooWarm = (place: Place): readonly CheckCode[] => [
  'heater-off-at-wall',
  ...(place.chilled === true ? (['chiller-running'] as const) : []),
  'air-running',
  flows(place) ? 'flow-up' : 'cool-slowly-sealed-ice',
  'hand-thermometer',
];

export const tooCold = (place: Place): readonly CheckCode[] => [
  'heater-off-at-wall',
  'heater-supply',
  flows(place) ? 'header-temperature' : 'room-and-lid',
  'warm-slowly',
  'hand-thermometer',
];

export const shortOfOxygen = (place: Place): readonly CheckCode[] => [
  'air-running',
  ...(flows(place) ? (['flow-running'] as const) : []),
  ...(place.airMainId === undefined ? [] : (['blower-running'] as const)),
  'spare-air',
  'stir-gently',
  ...(place.bed === undefined ? [] : (['bed-smell'] as const)),
  'hand-oxygen',
];

const salinity = (side: 'low' | 'high', place: Place): readonly CheckCode[] =>
  side === 'high'
    ? ['hand-salinity', 'top-up-slowly']
    : ['hand-salinity', flows(place) ? 'intake-rain' : 'fresh-water-valve', 'probe-bubble'];

/** For a value beyond a line. */
export const checksFor = (side: 'low' | 'high', quantity: Quantity | undefined, place: Place): readonly CheckCode[] => {
  switch (quantity) {
    case 'temperature':
      return side === 'high' ? tooWarm(place) : tooCold(place);
    case 'salinity':
    case 'conductivity':
    case 'specific-conductance':
      return salinity(side, place);
    case 'oxygen-mg-l':
    case 'oxygen-saturation':
      return side === 'high' ? ['degas', 'hand-oxygen'] : shortOfOxygen(place);
    case 'level':
      return side === 'low' ? ['heater-off-at-wall', 'leak-or-standpipe'] : ['drain-or-screen'];
    case 'flow':
      return ['flow-running', 'header-level'];
    default:
      return ['look-at-tank'];
  }
};
