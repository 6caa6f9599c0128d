import type { Signal } from '@preact/signals';
import { computed } from '@preact/signals';
import { useId } from 'preact/hooks';
import type { Field, Shape } from '../../rules/log/field.js';
import { tallyOf } from '../../rules/log/tally.js';
import { isQuantity } from '../../rules/quantity.js';
import { tallyWords } from '../../rules/words/animals.js';
import { fieldLabel } from '../../rules/words/entry-field.js';
import type { Reader } from '../../rules/words/language.js';
import { unitWords } from '../../rules/words/number.js';
import { refusalSentence } from '../../rules/words/refusal.js';
import { choiceWords } from '../state/entry-choice.js';
import { fieldsFrom, type Texts } from '../state/entry-draft.js';
import { useTanks } from '../state/places.js';
import { useRoom } from '../state/room.js';
import type { FormSaid } from '../state/writing.js';
import { Pills } from './pills.js';

/** A form's text by pointer, and what is wrong with it. */
export type FormState = { readonly texts: Signal<Texts>; readonly faults: Signal<readonly FormSaid[]> };

type FieldsProps = FormState & {
  readonly shape: Extract<Shape, { kind: 'fields' }>;
  readonly pointer?: string;
  /** Fields that are drawn elsewhere, or not asked here. */
  readonly without?: readonly string[];
};

/** The fields of a kind of entry, drawn from the rules that will read them. */
export const EntryFields = ({ shape, texts, faults, pointer = '', without = [] }: FieldsProps) => (
  <>
    {Object.entries(shape.fields)
      .filter(([name]) => !without.includes(name))
      .map(([name, field]) => (
        <EntryField key={name} name={name} field={field} texts={texts} faults={faults} pointer={`${pointer}/${name}`} />
      ))}
  </>
);

type OneProps = FormState & { readonly name: string; readonly field: Field<unknown>; readonly pointer: string };

const EntryField = (props: OneProps) => {
  const { name, field, texts, faults, pointer } = props;
  const { shape } = field;
  const reader = useRoom().reader.value;
  const fault = shape.kind === 'list' ? faultWithin(faults.value, pointer) : faultAt(faults.value, pointer);
  const value = computed(() => texts.value[pointer] ?? '');
  const set = (text: string): void => {
    texts.value = { ...texts.value, [pointer]: text };
  };
  const label = fieldLabel(name, reader);
  if (shape.kind === 'fields')
    return name === 'count' ? <CountField {...props} /> : <EntryFields {...props} shape={shape} />;
  if (shape.kind === 'flag')
    return <Pills label={label} value={value} onChoose={set} optional choices={[['yes', 'Yes']]} fault={fault} />;
  if (shape.kind === 'choice') {
    const choices = shape.words.map((word) => [word, choiceWords(name, word, reader)] as const);
    if (choices.length <= 7)
      return (
        <Pills
          label={label}
          value={value}
          onChoose={set}
          choices={choices}
          optional={field.optional === true}
          fault={fault}
        />
      );
    return <Select label={label} value={value.value} onChoose={set} choices={choices} fault={fault} />;
  }
  if (isPlace(name, shape)) return <PlaceField label={label} value={value.value} onChoose={set} fault={fault} />;
  return (
    <Line
      label={label}
      shape={shownShape(shape, texts.value, reader)}
      optional={field.optional === true}
      value={value.value}
      onText={set}
      fault={fault}
    />
  );
};

export const faultAt = (faults: readonly FormSaid[], pointer: string): string | undefined =>
  faults.find((one) => one.pointer === `/fields${pointer}`)?.detail;

/** Of a list in one line: its own, or that of any in it. */
const faultWithin = (faults: readonly FormSaid[], pointer: string): string | undefined =>
  faults.find((one) => one.pointer === `/fields${pointer}` || one.pointer.startsWith(`/fields${pointer}/`))?.detail;

/** Places are written as ids; what is sold `to` is a buyer's name. */
const isPlace = (name: string, shape: Shape): boolean =>
  (name === 'to' || name === 'placeId' || name === 'hotSupplyId') && shape.kind === 'text' && shape.most === 40;

type LineProps = {
  readonly label: string;
  readonly shape: Shape;
  readonly optional: boolean;
  readonly value: string;
  readonly onText: (text: string) => void;
  readonly fault?: string | undefined;
  readonly hint?: string;
};

/** One line to write in, its unit behind it. */
export const Line = ({ label, shape, optional, value, onText, fault, hint }: LineProps) => {
  const id = useId();
  const reader = useRoom().reader.value;
  const said = fault ?? hint;
  const isNumber = shape.kind === 'number' || (shape.kind === 'list' && shape.of.kind === 'number');
  const one = shape.kind === 'list' ? shape.of : shape;
  const unit =
    one.kind === 'number'
      ? one.unit === '°C' || one.unit === 'K'
        ? unitWords('temperature', reader)
        : unitOf(one.unit)
      : '';
  const isLong = one.kind === 'text' && one.most >= 1000;
  const common = {
    id,
    value,
    autocomplete: 'off',
    'aria-invalid': fault === undefined ? undefined : true,
    'aria-describedby': said === undefined ? undefined : `${id}-said`,
    onInput: (event: { readonly currentTarget: HTMLInputElement | HTMLTextAreaElement }) =>
      onText(event.currentTarget.value),
  } as const;
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>
        {label}
        {optional ? null : <span class="for-voice"> (needed)</span>}
      </label>
      <div class="field-line">
        {isLong ? <textarea rows={3} {...common} /> : <input inputMode={isNumber ? 'decimal' : 'text'} {...common} />}
        {unit === '' ? null : <span class="field-unit">{unit}</span>}
      </div>
      {said === undefined ? null : (
        <p class="field-said" id={`${id}-said`}>
          {said}
        </p>
      )}
    </div>
  );
};

/** `value` of a hand measurement is in the unit of what was measured. */
const shownShape = (shape: Shape, texts: Texts, reader: Reader): Shape => {
  const quantity = texts['/quantity'] ?? '';
  if (shape.kind !== 'number' || shape.unit !== '' || !isQuantity(quantity)) return shape;
  return { ...shape, unit: unitWords(quantity, reader) };
};

const unitOf = (unit: string): string => (unit === '1' ? 'ppt' : unit === 'animals' || unit === 'counted' ? '' : unit);

type SelectProps = {
  readonly label: string;
  readonly value: string;
  readonly onChoose: (value: string) => void;
  readonly choices: readonly (readonly [value: string, words: string])[];
  readonly fault?: string | undefined;
};

export const Select = ({ label, value, onChoose, choices, fault }: SelectProps) => {
  const id = useId();
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        <option value="">choose</option>
        {choices.map(([choice, words]) => (
          <option key={choice} value={choice}>
            {words}
          </option>
        ))}
      </select>
      {fault === undefined ? null : <p class="field-said">{fault}</p>}
    </div>
  );
};

export const PlaceField = (props: Omit<SelectProps, 'choices'>) => {
  const tanks = useTanks();
  return <Select {...props} choices={tanks.map(({ id, name }) => [id, name] as const)} />;
};

/** Subsamples or a number: once one is begun the other is not asked for any more. */
const notAsked = (texts: Texts, pointer: string): readonly string[] => {
  const isTyped = (name: string): boolean => (texts[`${pointer}/${name}`] ?? '') !== '';
  if (isTyped('counts')) return ['animals', 'low', 'high'];
  return isTyped('animals') ? ['counts', 'subsampleMl', 'totalL'] : ['low', 'high'];
};

/** Subsamples and what they come to, with its interval, while they are typed. */
const CountField = ({ field, texts, faults, pointer }: OneProps) => {
  const reader = useRoom().reader.value;
  const { shape } = field;
  if (shape.kind !== 'fields') return null;
  const fields = fieldsFrom(shape, texts.value, reader, pointer);
  const read = fields === undefined ? undefined : field.read(fields, '');
  // The rules' own field read it, so it is a count.
  const tally = read?.ok === true ? tallyOf(read.value as Parameters<typeof tallyOf>[0]) : undefined;
  return (
    <fieldset class="count-field">
      <legend>Count</legend>
      <div class="form-grid">
        <EntryFields
          shape={shape}
          texts={texts}
          faults={faults}
          pointer={pointer}
          without={notAsked(texts.value, pointer)}
        />
      </div>
      <p class="count-says" role="status">
        {tally === undefined ? null : tally.ok ? tallyWords(tally.value, reader) : refusalSentence(tally.fault, reader)}
      </p>
      {faultAt(faults.value, pointer) === undefined ? null : (
        <p class="field-said field-wrong-said">{faultAt(faults.value, pointer)}</p>
      )}
    </fieldset>
  );
};
