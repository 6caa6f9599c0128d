import type { Signal } from '@preact/signals';
import type { Place } from '../../rules/place.js';
import type { Texts } from '../state/entry-draft.js';
import type { FormFault } from '../state/place-form.js';
import { BED_NUMBERS, FLAGS, NUMBERS, SUPPLIES } from '../state/place-more.js';
import { useRoom } from '../state/room.js';
import { Line, Select } from './entry-fields.js';
import { Pills } from './pills.js';

type MoreProps = { readonly place: Place; readonly texts: Signal<Texts>; readonly faults: readonly FormFault[] };

const PLAIN = { kind: 'number', low: 0, high: 0, whole: false } as const;

/** What a tank is made of and hangs on: what its alarms are grouped by, and its sums are worked out from. */
export const PlaceMore = ({ place, texts, faults }: MoreProps) => {
  const places = useRoom().picture.value?.places ?? [];
  const set = (name: string, text: string): void => {
    texts.value = { ...texts.value, [name]: text };
  };
  const value = (name: string): string => texts.value[name] ?? '';
  const fault = (name: string): string | undefined => faults.find(({ field }) => field === name)?.detail;
  const figures = (table: typeof NUMBERS | typeof BED_NUMBERS) =>
    Object.entries(table).map(([name, [label, unit]]) => (
      <Line
        key={name}
        label={label}
        shape={{ ...PLAIN, unit }}
        optional
        value={value(name)}
        onText={(text) => set(name, text)}
        fault={fault(name)}
      />
    ));
  const isTank = place.kind === 'tank' || place.kind === 'bath';
  const supplies = Object.entries(SUPPLIES).filter(([name]) => isTank || name === 'circuitId' || name === 'roomId');
  return (
    <details class="entry-more" open={faults.some(({ field }) => field in texts.value)}>
      <summary>Water, heat, air and power</summary>
      <div class="form-grid">
        {isTank ? figures(NUMBERS) : null}
        {supplies.map(([name, [label, kind]]) => (
          <Select
            key={name}
            label={label}
            value={value(name)}
            onChoose={(id) => set(name, id)}
            choices={places
              .filter((one) => one.kind === kind && one.id !== place.id)
              .map((one) => [one.id, one.name] as const)}
          />
        ))}
        {isTank
          ? Object.entries(FLAGS).map(([name, label]) => (
              <Pills
                key={name}
                label={label}
                value={{ value: value(name) }}
                onChoose={(text) => set(name, text)}
                choices={[['yes', 'Yes']]}
                optional
              />
            ))
          : null}
        {isTank ? (
          <Pills
            label="Bed"
            value={{ value: value('bed') }}
            onChoose={(text) => set('bed', text)}
            choices={[
              ['', 'none'],
              ['sand', 'sand'],
              ['aragonite', 'aragonite'],
            ]}
          />
        ) : null}
        {isTank && value('bed') !== '' ? (
          <Line
            label="Depth of the bed"
            shape={{ ...PLAIN, unit: 'm' }}
            optional
            value={value('bedDepthM')}
            onText={(text) => set('bedDepthM', text)}
            fault={fault('bedDepthM')}
          />
        ) : null}
        {isTank && value('bed') !== '' ? figures(BED_NUMBERS) : null}
      </div>
    </details>
  );
};
