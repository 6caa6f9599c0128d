import type {
  Calculation,
  CalculationFigure,
  CalculationValue,
  CalculationValues,
} from '../../rules/calc/calculation.js';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import type { ChannelPicture, PlacePicture } from '../../rules/wire/picture.js';
import { refusalSentence } from '../../rules/words/refusal.js';
import type { Texts } from './entry-draft.js';
import { parseNumber } from './place-form.js';

/** What a tank already knows, by the names that the calculations have for it. */
export const knownOf = (place: PlacePicture | undefined, channels: readonly ChannelPicture[]): Texts => {
  if (place === undefined) return {};
  const read = (quantity: ChannelPicture['quantity']): number | undefined =>
    channels.find((one) => one.placeId === place.id && one.quantity === quantity && one.position === undefined)?.value;
  const [temperatureC, salinity] = [read('temperature'), read('salinity')];
  const { volumeL } = place;
  const density =
    temperatureC === undefined || salinity === undefined ? undefined : seawaterDensityKgM3({ temperatureC, salinity });
  const tankKg = volumeL === undefined || density?.ok !== true ? undefined : (volumeL * density.value) / 1000;
  const known: Readonly<Record<string, number | undefined>> = {
    temperatureC,
    fromC: temperatureC,
    nowC: temperatureC,
    salinity,
    volumeL,
    tankVolumeL: volumeL,
    totalVolumeL: volumeL,
    tankKg,
  };
  return Object.fromEntries(
    Object.entries(known).flatMap(([key, value]) =>
      value === undefined ? [] : [[key, String(Number(value.toFixed(2)))]],
    ),
  );
};

/** Values as the calculation takes them; a text that is no number is left out and refused by name. */
export const valuesFrom = ({ options }: Calculation, texts: Texts): CalculationValues =>
  Object.fromEntries(
    options.flatMap(({ key, list, choices, text }): readonly (readonly [string, CalculationValue])[] => {
      const typed = (texts[key] ?? '').trim();
      if (typed === '') return [];
      if (choices !== undefined || text === true) return [[key, typed]];
      if (list === true) return [[key, typed.split(/[\s;]+/).map((one) => parseNumber(one) ?? Number.NaN)]];
      return [[key, parseNumber(typed) ?? Number.NaN]];
    }),
  );

const DIGITS = 4;
const shown = (value: number, digits: number): string => String(Number(value.toPrecision(digits)));

const figureWords = (figure: CalculationFigure, digits: number): string => {
  if (typeof figure === 'number') return shown(figure, digits);
  if (typeof figure === 'boolean') return figure ? 'yes' : 'no';
  if (typeof figure === 'string') return figure;
  return figure.map((one) => (typeof one === 'number' ? shown(one, digits) : one)).join(' and ');
};
const suffix = (unit: string | undefined): string =>
  unit === undefined || unit === '' || unit === '1' ? '' : ` ${unit}`;

/** What comes out, or why nothing does. */
export const resultWords = (
  calculation: Calculation,
  texts: Texts,
): { readonly ok: boolean; readonly words: string } => {
  const { unit, labels = {}, digits = DIGITS } = calculation;
  const answer = calculation.run(valuesFrom(calculation, texts));
  if (!answer.ok) return { ok: false, words: refusalSentence(answer.fault) };
  const { value } = answer;
  if (typeof value === 'number')
    return { ok: true, words: `${shown(value, digits)}${suffix(typeof unit === 'string' ? unit : '')}` };
  const units = typeof unit === 'string' ? {} : unit;
  const parts = Object.entries(labels).flatMap(([key, label]) => {
    const figure = value[key];
    return figure === undefined ? [] : [`${label} ${figureWords(figure, digits)}${suffix(units[key])}`];
  });
  return { ok: true, words: parts.join(', ') };
};
