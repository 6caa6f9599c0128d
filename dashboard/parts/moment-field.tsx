import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';

type MomentProps = {
  readonly label: string;
  readonly value: Signal<string>;
  readonly kind?: 'datetime-local' | 'time';
  readonly fault?: string;
};

/** A day and a time by the clock of the site, from the device's own picker. */
export const MomentField = ({ label, value, kind = 'datetime-local', fault }: MomentProps) => {
  const id = useId();
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type={kind}
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

/** `07:30` of a minute of the day, and back; undefined for what is no time. */
export const timeText = (minute: number): string =>
  `${String(Math.floor(minute / 60) % 24).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

export const timeMinute = (text: string): number | undefined => {
  const [, hour, minute] = /^(\d\d):(\d\d)/.exec(text) ?? [];
  return hour === undefined || minute === undefined ? undefined : Number(hour) * 60 + Number(minute);
};
