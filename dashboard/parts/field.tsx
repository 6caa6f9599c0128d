import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';

type FieldProps = {
  readonly label: string;
  readonly hint?: string;
  readonly value: Signal<string>;
  readonly type?: 'text' | 'password' | 'number';
  readonly autocomplete?: string;
  /** What is wrong with what stands in it. */
  readonly fault?: string;
  readonly unit?: string;
  readonly list?: readonly string[];
};

/** One line to write in: its word above, what helps below, what is wrong in words. */
export const Field = ({ label, hint, value, type = 'text', autocomplete = 'off', fault, unit, list }: FieldProps) => {
  const id = useId();
  const said = fault ?? hint;
  const common = {
    id,
    value: value.value,
    autocomplete,
    'aria-describedby': said === undefined ? undefined : `${id}-said`,
    'aria-invalid': fault === undefined ? undefined : true,
    onInput: (event: { readonly currentTarget: HTMLInputElement }) => {
      value.value = event.currentTarget.value;
    },
  };
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <div class="field-line">
        {type === 'password' ? (
          <input {...common} type="password" />
        ) : list === undefined ? (
          <input {...common} inputMode={type === 'number' ? 'decimal' : 'text'} />
        ) : (
          <input {...common} list={`${id}-list`} />
        )}
        {unit === undefined || unit === '' ? null : <span class="field-unit">{unit}</span>}
      </div>
      {list === undefined ? null : (
        <datalist id={`${id}-list`}>
          {list.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      )}
      {said === undefined ? null : (
        <p class="field-said" id={`${id}-said`}>
          {said}
        </p>
      )}
    </div>
  );
};

type ChoiceProps = {
  readonly label: string;
  readonly value: Signal<string>;
  readonly choices: readonly (readonly [value: string, words: string])[];
  /** More of them at the end of the list, under a heading. */
  readonly apart?: { readonly label: string; readonly choices: ChoiceProps['choices'] };
  readonly hint?: string;
  /** What is wrong with what is chosen. */
  readonly fault?: string;
};

const Options = ({ choices }: Pick<ChoiceProps, 'choices'>) => (
  <>
    {choices.map(([choice, words]) => (
      <option key={choice} value={choice}>
        {words}
      </option>
    ))}
  </>
);

/** One of several, from the device's own list. */
export const Choice = ({ label, value, choices, apart, hint, fault }: ChoiceProps) => {
  const id = useId();
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value.value}
        aria-invalid={fault === undefined ? undefined : true}
        onChange={(event) => {
          value.value = event.currentTarget.value;
        }}
      >
        <Options choices={choices} />
        {apart === undefined || apart.choices.length === 0 ? null : (
          <optgroup label={apart.label}>
            <Options choices={apart.choices} />
          </optgroup>
        )}
      </select>
      {(fault ?? hint) === undefined ? null : <p class="field-said">{fault ?? hint}</p>}
    </div>
  );
};
