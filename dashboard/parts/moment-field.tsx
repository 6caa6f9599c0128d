import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';

type MomentProps = { readonly label: string; readonly value: Signal<string>; readonly fault?: string };

/** A day and a time by the clock of the site, from the device's own calendar. */
export const MomentField = ({ label, value, fault }: MomentProps) => {
  const id = useId();
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type="datetime-local"
        value={value.value}
        aria-invalid={fault === undefined ? undefined : true}
        aria-describedby={fault === undefined ? undefined : `${id}-said`}
        onInput={(event) => {
          value.value = event.currentTarget.value;
        }}
      />
      {fault === undefined ? null : (
        <p class="field-said" id={`${id}-said`}>
          {fault}
        </p>
      )}
    </div>
  );
};
