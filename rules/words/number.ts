import { type ByQuantity, DECIMALS, type Quantity, UNIT } from '../quantity.js';
import { fixedWords } from './figure.js';
import { type ByLanguage, inLanguage, type Reader } from './language.js';

type Degrees = Pick<Reader, 'temperatureUnit' | 'decimalMark' | 'language'>;
type Unit = { readonly shown: string; readonly spoken: string };
type Table = {
  readonly units: ByQuantity<Unit>;
  readonly fahrenheit: Unit;
  readonly on: string;
  readonly off: string;
  readonly anHour: string;
  readonly between: string;
  readonly atLeast: string;
  readonly atMost: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    units: {
      temperature: { shown: '°C', spoken: 'degrees Celsius' },
      conductivity: { shown: 'mS/cm', spoken: 'millisiemens per centimetre' },
      'specific-conductance': { shown: 'mS/cm', spoken: 'millisiemens per centimetre' },
      salinity: { shown: 'ppt', spoken: 'parts per thousand' },
      'oxygen-mg-l': { shown: 'mg/L', spoken: 'milligrams per litre' },
      'oxygen-saturation': { shown: '%', spoken: 'percent of saturation' },
      ph: { shown: 'pH', spoken: 'pH' },
      orp: { shown: 'mV', spoken: 'millivolts' },
      pressure: { shown: 'kPa', spoken: 'kilopascals' },
      level: { shown: 'm', spoken: 'metres' },
      flow: { shown: 'L/min', spoken: 'litres a minute' },
      contact: { shown: '', spoken: '' },
      battery: { shown: 'V', spoken: 'volts' },
    },
    fahrenheit: { shown: '°F', spoken: 'degrees Fahrenheit' },
    on: 'on',
    off: 'off',
    anHour: 'an hour',
    between: 'to',
    atLeast: 'at least',
    atMost: 'at most',
  },
};

const isFahrenheit = (quantity: Quantity, reader: Degrees): boolean =>
  quantity === 'temperature' && reader.temperatureUnit === 'F';

const unitOf = (quantity: Quantity, reader: Degrees): Unit => {
  const words = inLanguage(WORDS, reader);
  return isFahrenheit(quantity, reader) ? words.fahrenheit : words.units[quantity];
};

/** The unit a person sees: `°C`, `ppt`, `%`; empty for on/off. */
export const unitWords = (quantity: Quantity, reader: Degrees): string => unitOf(quantity, reader).shown;

/** A canonical value in the reader's degrees, unrounded: for charts and forms. */
export const shownValue = (quantity: Quantity, value: number, reader: Degrees): number =>
  isFahrenheit(quantity, reader) ? (value * 9) / 5 + 32 : value;

/** The inverse of `shownValue`: what a person typed, in the canonical unit. */
export const canonicalValue = (quantity: Quantity, shown: number, reader: Degrees): number =>
  isFahrenheit(quantity, reader) ? ((shown - 32) * 5) / 9 : shown;

/** A difference or a rate in the reader's degrees, unrounded: 1 °C is 1.8 °F, without the 32. */
export const shownDifference = (quantity: Quantity, difference: number, reader: Degrees): number =>
  isFahrenheit(quantity, reader) ? (difference * 9) / 5 : difference;

/** The number alone with the decimals of its quantity: `29.9`, `74`, `on`. */
export const numberWords = (quantity: Quantity, value: number, reader: Degrees): string => {
  const { on, off } = inLanguage(WORDS, reader);
  if (quantity === 'contact') return value === 0 ? off : on;
  return fixedWords(shownValue(quantity, value, reader), DECIMALS[quantity], reader);
};

/** The number with its unit: `29.9 °C`, `29.2 ppt`, `74 %`, `pH 7.90`, `on`. */
export const valueWords = (quantity: Quantity, value: number, reader: Degrees): string => {
  const number = numberWords(quantity, value, reader);
  const unit = unitWords(quantity, reader);
  if (quantity === 'ph') return `${unit} ${number}`;
  return unit === '' ? number : `${number} ${unit}`;
};

/** A line that people set, without decimals it does not need: `32 °C`, `18.3 °C`. */
export const lineWords = (quantity: Quantity, value: number, reader: Degrees): string => {
  const number = trimmed(numberWords(quantity, value, reader));
  const unit = unitWords(quantity, reader);
  if (quantity === 'ph') return `${unit} ${number}`;
  return unit === '' ? number : `${number} ${unit}`;
};

/** For a label of the wall, where the letter of the degree is known: `29.9°`; others as `valueWords`. */
export const shortWords = (quantity: Quantity, value: number, reader: Degrees): string =>
  quantity === 'temperature' ? `${numberWords(quantity, value, reader)}°` : valueWords(quantity, value, reader);

/** For a voice: `29.9 degrees Celsius`. */
export const spokenWords = (quantity: Quantity, value: number, reader: Degrees): string => {
  const number = numberWords(quantity, value, reader);
  const { spoken } = unitOf(quantity, reader);
  if (quantity === 'ph') return `${spoken} ${number}`;
  return spoken === '' ? number : `${number} ${spoken}`;
};

/** Size of a change, without its sign: `2.9 °C an hour`. */
export const rateWords = (quantity: Quantity, perHour: number, reader: Degrees): string => {
  const { anHour } = inLanguage(WORDS, reader);
  const size = differenceWords(quantity, Math.abs(perHour), reader);
  return `${size} ${unitWords(quantity, reader) || UNIT[quantity]} ${anHour}`;
};

/** The inverse of `shownDifference`. */
export const canonicalDifference = (quantity: Quantity, shown: number, reader: Degrees): number =>
  isFahrenheit(quantity, reader) ? (shown * 5) / 9 : shown;

/** A difference without its unit, with one decimal more than a value where a value has none: `3.2`. */
export const differenceWords = (quantity: Quantity, difference: number, reader: Degrees): string =>
  fixedWords(shownDifference(quantity, difference, reader), Math.max(1, DECIMALS[quantity]), reader);

/** A span with one or both ends: `18.3 to 23.9 °C`, `at least 80 %`, `at most 30 °C`; undefined when open on both sides. */
export const spanWords = (
  quantity: Quantity,
  low: number | undefined,
  high: number | undefined,
  reader: Degrees,
): string | undefined => {
  const { between, atLeast, atMost } = inLanguage(WORDS, reader);
  if (low !== undefined && high !== undefined) {
    const from = trimmed(numberWords(quantity, low, reader));
    if (quantity === 'ph')
      return `${lineWords(quantity, low, reader)} ${between} ${trimmed(numberWords(quantity, high, reader))}`;
    return `${from} ${between} ${lineWords(quantity, high, reader)}`;
  }
  if (low !== undefined) return `${atLeast} ${lineWords(quantity, low, reader)}`;
  return high === undefined ? undefined : `${atMost} ${lineWords(quantity, high, reader)}`;
};

const trimmed = (number: string): string => (/[.,]/.test(number) ? number.replace(/[.,]?0+$/, '') : number);
