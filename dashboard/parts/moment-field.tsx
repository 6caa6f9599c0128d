import type { Signal } from '@preact/signals';
import { useId } from 'preact/hooks';
import { clockWords, dateWords, wallMs } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { useRoom } from '../state/room.js';

type Kind = 'datetime-local' | 'time';
type MomentProps = {
  readonly label: string;
  readonly value: Signal<string>;
  readonly kind?: Kind;
  readonly fault?: string;
};

/**
 * A day and a time by the clock of the site, from the device's own picker. The picker writes as the device does, so what
 * was chosen is said below as everything else here is: `Thu 27 Nov, 9:40 pm`.
 */
export const MomentField = ({ label, value, kind = 'datetime-local', fault }: MomentProps) => {
  const id = useId();
  const chosen = chosenWords(value.value, kind, useRoom().reader.value);
  const said = [...(chosen === undefined ? [] : [`${id}-chosen`]), ...(fault === undefined ? [] : [`${id}-said`])];
  return (
    <div class={fault === undefined ? 'field' : 'field field-wrong'}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type={kind}
        value={value.value}
        aria-invalid={fault === undefined ? undefined : true}
        aria-describedby={said.length === 0 ? undefined : said.join(' ')}
        onInput={(event) => {
          value.value = event.currentTarget.value;
        }}
      />
      {chosen === undefined ? null : (
        <p class="field-chosen" id={`${id}-chosen`}>
          {chosen}
        </p>
      )}
      {fault === undefined ? null : (
        <p class="field-said" id={`${id}-said`}>
          {fault}
        </p>
      )}
    </div>
  );
};

const MINUTE_MS = 60_000;

/** What the picker holds, as the site says it; undefined while it is half chosen. */
const chosenWords = (text: string, kind: Kind, reader: Reader): string | undefined => {
  if (kind === 'time') {
    const minute = timeMinute(text);
    // A time of any day: the first of all days has it in any zone that is none.
    return minute === undefined ? undefined : clockWords(minute * MINUTE_MS, { ...reader, zone: 'UTC' });
  }
  const atMs = wallMs(text, reader.zone);
  return atMs === undefined ? undefined : `${dateWords(atMs, reader)}, ${clockWords(atMs, reader)}`;
};

/** `07:30` of a minute of the day, and back; undefined for what is no time. */
export const timeText = (minute: number): string =>
  `${String(Math.floor(minute / 60) % 24).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

export const timeMinute = (text: string): number | undefined => {
  const [, hour, minute] = /^(\d\d):(\d\d)/.exec(text) ?? [];
  return hour === undefined || minute === undefined ? undefined : Number(hour) * 60 + Number(minute);
};
