import type { Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { Pills } from './pills.js';

type FormProps = {
  readonly send: () => void;
  /** Why it was not taken. */
  readonly said: string | undefined;
  readonly children: ComponentChildren;
  /** Below what was said: what sends it, and what else can be done. */
  readonly buttons: ComponentChildren;
};

/** A form about who is woken: its lines, what was wrong with them, and what sends them. */
export const WakingForm = ({ send, said, children, buttons }: FormProps) => (
  <form
    class="waking-form"
    onSubmit={(event) => {
      event.preventDefault();
      send();
    }}
  >
    {children}
    <p class="form-said said-alarm" role="alert">
      {said}
    </p>
    {buttons}
  </form>
);

const YES_NO = [
  ['no', 'No'],
  ['yes', 'Yes'],
] as const;

/** A question that is answered with yes or no. */
export const YesNo = ({ label, value }: { readonly label: string; readonly value: Signal<string> }) => (
  <Pills
    label={label}
    value={value}
    onChoose={(chosen) => {
      value.value = chosen;
    }}
    choices={YES_NO}
  />
);
