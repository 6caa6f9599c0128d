import type {
  Calculation,
  CalculationFigure,
  CalculationValue,
  CalculationValues,
} from '../../rules/calc/calculation.js';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import type { ChannelPicture, PlacePicture } from '../../rules/wire/picture.js';
import { type FigureReader, figureUnit, figureWords, shownFigure, typedFigure } from '../../rules/words/degrees.js';
import { plainWords, typedNumber, typedWords } from '../../rules/words/figure.js';
import { refusalSentence } from '../../rules/words/refusal.js';
import type { Texts } from './entry-draft.js';

/** What a tank already knows, by the names that the calculations have for it. */
export const knownOf = (
  place: PlacePicture | undefined,
  channels: readonly ChannelPicture[],
  reader: FigureReader,
): Texts => {
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
      value === undefined
        ? []
        : [[key, typedWords(shownFigure(key, key.endsWith('C') ? '°C' : '', value, reader), 2, reader)]],
    ),
  );
};

/** Values as the calculation takes them; a text that is no number is left out and refused by name. */
export const valuesFrom = ({ options }: Calculation, texts: Texts, reader: FigureReader): CalculationValues =>
  Object.fromEntries(
    options.flatMap(({ key, unit, list, choices, text }): readonly (readonly [string, CalculationValue])[] => {
      const typed = (texts[key] ?? '').trim();
      if (typed === '') return [];
      if (choices !== undefined || text === true) return [[key, typed]];
      const figure = (one: string): number => typedFigure(key, unit, typedNumber(one, reader) ?? Number.NaN, reader);
      return [[key, list === true ? typed.split(/[\s;]+/).map(figure) : figure(typed)]];
    }),
  );

const DIGITS = 4;

type Said = { readonly key: string; readonly unit: string; readonly digits: number };

const saidFigure = (said: Said, figure: CalculationFigure, reader: FigureReader): string => {
  const { digits } = said;
  if (typeof figure === 'number') return figureWords(said, figure, digits, reader);
  if (typeof figure === 'boolean') return figure ? 'yes' : 'no';
  if (typeof figure === 'string') return figure;
  const unit = figureUnit(said.key, said.unit, reader);
  const each = figure.map((one) => (typeof one === 'number' ? plainWords(one, digits, reader) : one)).join(' and ');
  return unit === '' ? each : `${each} ${unit}`;
};

/** What comes out, or why nothing does and, where one figure is at fault, which. */
export type SumWords = { readonly ok: boolean; readonly words: string; readonly what?: string };

export const resultWords = (calculation: Calculation, texts: Texts, reader: FigureReader): SumWords => {
  const { unit, labels = {}, digits = DIGITS } = calculation;
  const answer = calculation.run(valuesFrom(calculation, texts, reader));
  if (!answer.ok) {
    const { fault } = answer;
    const what = fault.code === 'impossible' ? {} : { what: fault.what };
    return { ok: false, words: refusalSentence(fault, reader), ...what };
  }
  const { value } = answer;
  const unitOf = (key: string): string => (typeof unit === 'string' ? unit : (unit[key] ?? ''));
  if (typeof value === 'number')
    return { ok: true, words: saidFigure({ key: '', unit: unitOf(''), digits }, value, reader) };
  const parts = Object.entries(labels).flatMap(([key, label]) => {
    const figure = value[key];
    return figure === undefined ? [] : [`${label} ${saidFigure({ key, unit: unitOf(key), digits }, figure, reader)}`];
  });
  return { ok: true, words: parts.join(', ') };
};
