import { fault, ok, type Result } from '../result.js';

/** What is wrong with one figure or word of a form; `pointer` says where (RFC 6901). rules/words/entry-fault.ts says it. */
export type FieldFault = {
  readonly pointer: string;
  readonly code: string;
  readonly with?: Readonly<Record<string, number | string>>;
};
export type Read<T> = Result<T, readonly FieldFault[]>;

/** What a field takes, as plain data: forms and schemas are drawn from it. */
export type Shape =
  | {
      readonly kind: 'number';
      readonly low: number;
      readonly high: number;
      readonly unit: string;
      readonly whole: boolean;
    }
  | { readonly kind: 'text'; readonly most: number; readonly pattern?: RegExp }
  | { readonly kind: 'choice'; readonly words: readonly string[] }
  | { readonly kind: 'flag' }
  | { readonly kind: 'list'; readonly of: Shape; readonly least: number; readonly most: number }
  | { readonly kind: 'fields'; readonly fields: Readonly<Record<string, Field<unknown>>> };

/** One field of a form: what it takes, and how it is read from what somebody sent. */
export type Field<T> = {
  readonly shape: Shape;
  readonly optional?: boolean;
  readonly read: (value: unknown, pointer: string) => Read<T>;
};
export type Maybe<T> = Field<T> & { readonly optional: true };

export const faulty = (pointer: string, code: string, parameters?: FieldFault['with']): FieldFault => ({
  pointer,
  code,
  ...(parameters === undefined ? {} : { with: parameters }),
});
const wrong = (pointer: string, code: string, parameters?: FieldFault['with']) =>
  fault([faulty(pointer, code, parameters)]);

const numeric = (low: number, high: number, unit: string, whole: boolean): Field<number> => ({
  shape: { kind: 'number', low, high, unit, whole },
  read: (value, pointer) => {
    if (typeof value !== 'number' || !Number.isFinite(value)) return wrong(pointer, 'not-a-number');
    if (value < low || value > high) return wrong(pointer, 'out-of-range', { value, low, high, unit });
    return whole && !Number.isInteger(value) ? wrong(pointer, 'not-whole', { value }) : ok(value);
  },
});

/** Both ends included; never clamped. */
export const number = (low: number, high: number, unit: string): Field<number> => numeric(low, high, unit, false);
export const whole = (low: number, high: number, unit: string): Field<number> => numeric(low, high, unit, true);

/** Words of the person's own, without blanks at the ends; an empty text is a missing one. */
export const text = (most: number, pattern?: RegExp): Field<string> => ({
  shape: { kind: 'text', most, ...(pattern === undefined ? {} : { pattern }) },
  read: (value, pointer) => {
    if (typeof value !== 'string') return wrong(pointer, 'not-a-text');
    const words = value.trim();
    if (words === '') return wrong(pointer, 'missing');
    if (words.length > most) return wrong(pointer, 'too-long', { length: words.length, most });
    return pattern === undefined || pattern.test(words) ? ok(words) : wrong(pointer, 'not-so-written', { words });
  },
});

export const choice = <const Word extends string>(words: readonly Word[]): Field<Word> => ({
  shape: { kind: 'choice', words },
  read: (value, pointer) => {
    const word = words.find((one) => one === value);
    return word === undefined ? wrong(pointer, 'not-a-choice', { words: words.join(', ') }) : ok(word);
  },
});

export const flag: Field<boolean> = {
  shape: { kind: 'flag' },
  read: (value, pointer) => (typeof value === 'boolean' ? ok(value) : wrong(pointer, 'not-yes-or-no')),
};

export const maybe = <T>(field: Field<T>): Maybe<T> => ({ ...field, optional: true });

export const listOf = <T>(field: Field<T>, least: number, most: number): Field<readonly T[]> => ({
  shape: { kind: 'list', of: field.shape, least, most },
  read: (value, pointer) => {
    if (!Array.isArray(value)) return wrong(pointer, 'not-a-list');
    if (value.length < least) return wrong(pointer, 'too-few', { least, given: value.length });
    if (value.length > most) return wrong(pointer, 'too-many', { most, given: value.length });
    const read = value.map((one: unknown, index) => field.read(one, `${pointer}/${index}`));
    const faults = read.flatMap((one) => (one.ok ? [] : one.fault));
    return faults.length > 0 ? fault(faults) : ok(read.flatMap((one) => (one.ok ? [one.value] : [])));
  },
});

type Fields = Readonly<Record<string, Field<unknown>>>;
type ValueOf<F> = F extends Field<infer T> ? T : never;
type Needed<F extends Fields> = { readonly [K in keyof F as F[K] extends Maybe<unknown> ? never : K]: ValueOf<F[K]> };
type Extra<F extends Fields> = { readonly [K in keyof F as F[K] extends Maybe<unknown> ? K : never]?: ValueOf<F[K]> };
export type FieldsValue<F extends Fields> = Needed<F> & Extra<F>;

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A group of named fields: all faults at once, and a name that is not known is one of them. */
export const fieldsOf = <F extends Fields>(fields: F): Field<FieldsValue<F>> => ({
  shape: { kind: 'fields', fields },
  read: (value, pointer) => {
    if (!isRecord(value)) return wrong(pointer, 'not-a-group');
    const faults: FieldFault[] = Object.keys(value)
      .filter((name) => !Object.hasOwn(fields, name))
      .map((name) => faulty(`${pointer}/${escaped(name)}`, 'not-known-here', { name }));
    const found: Record<string, unknown> = {};
    for (const [name, field] of Object.entries(fields)) {
      const given = value[name];
      if (given === undefined || given === null || given === '') {
        if (field.optional !== true) faults.push(faulty(`${pointer}/${name}`, 'missing'));
        continue;
      }
      const read = field.read(given, `${pointer}/${name}`);
      if (read.ok) found[name] = read.value;
      else faults.push(...read.fault);
    }
    // Every needed field was read by its own field, so the record is what F says.
    return faults.length > 0 ? fault(faults) : ok(found as FieldsValue<F>);
  },
});

/** [RFC 6901 3] */
const escaped = (name: string): string => name.replaceAll('~', '~0').replaceAll('/', '~1');
