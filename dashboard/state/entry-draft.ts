import type { FieldFault, Shape } from '../../rules/log/field.js';
import { type Marked, typedNumber, typedWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { canonicalValue, shownValue } from '../../rules/words/number.js';

/** What stands in a form, by pointer (`/count/counts`): text, as a person typed it, in the reader's degrees. */
export type Texts = Readonly<Record<string, string>>;

/** Fields as they go into an entry; what was not understood is left as it was typed, so that the rules refuse it in words. */
export const fieldsFrom = (shape: Shape, texts: Texts, reader: Reader, pointer = ''): unknown => {
  switch (shape.kind) {
    case 'fields': {
      const named = Object.entries(shape.fields).flatMap(([name, field]) => {
        const value = fieldsFrom(field.shape, texts, reader, `${pointer}/${name}`);
        return isNothing(value) ? [] : [[name, value] as const];
      });
      return named.length === 0 ? undefined : inDegrees(Object.fromEntries(named), reader, canonicalValue);
    }
    case 'list':
      return listFrom(shape.of, texts[pointer] ?? '', reader);
    default:
      return oneFrom(shape, texts[pointer] ?? '', reader);
  }
};

/** Figures whose unit is that of the quantity chosen beside them; only a temperature has two. */
const OF_QUANTITY = ['value', 'before', 'after'] as const;

const inDegrees = (
  fields: Readonly<Record<string, unknown>>,
  reader: Reader,
  convert: typeof canonicalValue,
): Readonly<Record<string, unknown>> => {
  if (fields.quantity !== 'temperature') return fields;
  const figures = OF_QUANTITY.flatMap((name) => {
    const value = fields[name];
    return typeof value === 'number' ? [[name, Number(convert('temperature', value, reader).toFixed(6))] as const] : [];
  });
  return { ...fields, ...Object.fromEntries(figures) };
};

const isNothing = (value: unknown): boolean => value === undefined || (Array.isArray(value) && value.length === 0);

/** Several in one line, blanks between: `69 68 72`. A comma may be a decimal comma, so it does not part two numbers. */
const listFrom = (of: Shape, text: string, reader: Reader): unknown => {
  const parts = text.split(/[\s;]+/).filter((part) => part !== '');
  return parts.map((part) => oneFrom(of, part, reader));
};

const oneFrom = (shape: Shape, text: string, reader: Reader): unknown => {
  if (text.trim() === '') return undefined;
  switch (shape.kind) {
    case 'number':
      return numberFrom(text, shape.unit, reader) ?? text;
    case 'flag':
      return text === 'yes';
    default:
      return text;
  }
};

/** Of a difference, without the 32. */
const F_PER_C = 1.8;

const numberFrom = (text: string, unit: string, reader: Reader): number | undefined => {
  const value = unit === 'animals' ? animalsFrom(text, reader) : (typedNumber(text, reader) ?? undefined);
  if (value === undefined) return undefined;
  if (unit === 'K' && reader.temperatureUnit === 'F') return Math.round((value / F_PER_C) * 1e6) / 1e6;
  if (unit !== '°C') return value;
  const canonical = canonicalValue('temperature', value, reader);
  return Math.round(canonical * 1e6) / 1e6;
};

/** `1.2 million`, `1.2m`, `250k` and `250 000` as the trade writes them; undefined for what is no number. */
export const animalsFrom = (text: string, reader: Marked): number | undefined => {
  const [, digits = '', size = ''] = /^([\d.,\s]+?)\s*(m|mio|million|millions|k|thousand)?$/i.exec(text.trim()) ?? [];
  const mark = reader.decimalMark === 'comma' ? '\\.' : ',';
  const grouped = new RegExp(`^\\d{1,3}(?:[${mark}\\s]\\d{3})+$`).test(digits);
  const value = typedNumber(digits.replaceAll(grouped ? /[.,\s]/g : /\s/g, ''), reader) ?? undefined;
  // Half an animal was meant otherwise.
  if (value === undefined || (size === '' && !Number.isInteger(value))) return undefined;
  return Math.round(value * (size === '' ? 1 : /^[mM]/.test(size) ? 1e6 : 1e3));
};

/** What a form starts with: an earlier entry's fields, as they would be typed. */
export const textsFrom = (shape: Shape, fields: unknown, reader: Reader, pointer = ''): Texts => {
  if (fields === undefined || fields === null) return {};
  switch (shape.kind) {
    case 'fields':
      return Object.assign(
        {},
        ...Object.entries(shape.fields).map(([name, field]) =>
          textsFrom(field.shape, shownIn(fields, reader)[name], reader, `${pointer}/${name}`),
        ),
      );
    case 'list':
      return { [pointer]: (fields as readonly unknown[]).map((one) => textOf(shape.of, one, reader)).join(' ') };
    default:
      return { [pointer]: textOf(shape, fields, reader) };
  }
};

const shownIn = (fields: unknown, reader: Reader): Readonly<Record<string, unknown>> =>
  inDegrees(fields as Readonly<Record<string, unknown>>, reader, shownValue);

const textOf = (shape: Shape, value: unknown, reader: Reader): string => {
  if (typeof value === 'boolean') return value ? 'yes' : '';
  if (typeof value !== 'number') return String(value);
  const unit = shape.kind === 'number' ? shape.unit : '';
  const rise = unit === 'K' && reader.temperatureUnit === 'F' ? value * F_PER_C : value;
  const shown = unit === '°C' ? shownValue('temperature', value, reader) : rise;
  return typedWords(shown, 4, reader);
};

/** The fault of one field of the form, by its pointer within `/fields`. */
export const faultAt = (faults: readonly FieldFault[], pointer: string): FieldFault | undefined =>
  faults.find((one) => one.pointer === `/fields${pointer}` || one.pointer.startsWith(`/fields${pointer}/`));
