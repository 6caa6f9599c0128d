import { type Marked, plainWords } from './figure.js';
import type { Reader } from './language.js';
import { canonicalDifference, canonicalValue, shownDifference, shownValue } from './number.js';

/** What of a reader decides how a figure of a sum is said. */
export type FigureReader = Marked & Pick<Reader, 'temperatureUnit'>;

/** As the calculations count, and as they are said where nobody has said otherwise. */
export const CANONICAL: FigureReader = { temperatureUnit: 'C' };

/** Figures in °C that are a difference, not a temperature: without the 32. */
const DIFFERENCES = ['riseC', 'headroomC', 'largestChangeC', 'marginC'];

type Kind = 'temperature' | 'difference' | 'per-degree' | 'other';
const kindOf = (key: string, unit: string): Kind => {
  if (unit === '%/°C' || unit === '% per °C') return 'per-degree';
  if (unit === 'K' || DIFFERENCES.includes(key)) return 'difference';
  if (unit === '°C') return 'temperature';
  return unit.startsWith('°C') ? 'difference' : 'other';
};

/** A unit of a sum as the site says it: `°F/h`, `ppt` where the pure number is a salinity. */
export const figureUnit = (key: string, unit: string, { temperatureUnit }: FigureReader): string => {
  if (unit === '1' && /salinity/i.test(key)) return 'ppt';
  if (unit === '1') return '';
  return (unit === 'K' ? '°C' : unit)
    .replace('°C', `°${temperatureUnit}`)
    .replace('mm2', 'mm²')
    .replace(/([cm]?m)2/, '$1²');
};

/** A figure of a sum, unrounded, in the site's degrees. */
export const shownFigure = (key: string, unit: string, value: number, reader: FigureReader): number => {
  const kind = kindOf(key, unit);
  if (kind === 'temperature') return shownValue('temperature', value, reader);
  if (kind === 'difference') return shownDifference('temperature', value, reader);
  return kind === 'per-degree' ? canonicalDifference('temperature', value, reader) : value;
};

/** The inverse: what was typed, as the sum takes it. */
export const typedFigure = (key: string, unit: string, typed: number, reader: FigureReader): number => {
  const kind = kindOf(key, unit);
  if (kind === 'temperature') return canonicalValue('temperature', typed, reader);
  if (kind === 'difference') return canonicalDifference('temperature', typed, reader);
  return kind === 'per-degree' ? shownDifference('temperature', typed, reader) : typed;
};

/** A figure with its unit, as many digits as mean anything: `79.7 °F`, `3,6 °F/h`. */
export const figureWords = (
  { key, unit }: { readonly key: string; readonly unit: string },
  value: number,
  digits: number,
  reader: FigureReader,
): string => {
  const said = plainWords(shownFigure(key, unit, value, reader), digits, reader);
  const unitSaid = figureUnit(key, unit, reader);
  return unitSaid === '' ? said : `${said} ${unitSaid}`;
};
