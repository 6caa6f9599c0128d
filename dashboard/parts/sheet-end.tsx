import type { Signal } from '@preact/signals';
import { SHEET_ENDS } from '../../rules/log/kinds/animals.js';
import type { Stage } from '../../rules/stage/stage.js';
import type { PlacePicture } from '../../rules/wire/picture.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital, stageName } from '../../rules/words/name.js';
import type { Texts } from '../state/entry-draft.js';
import { useRoom } from '../state/room.js';
import type { Part } from '../state/sheet-form.js';
import type { FormSaid } from '../state/writing.js';
import { faultAt, PlaceField } from './entry-fields.js';
import { Pills } from './pills.js';

type Form = { readonly texts: Signal<Texts>; readonly parts: Signal<readonly Part[]> };
export type SheetProps = {
  readonly form: Form;
  readonly faults: Signal<readonly FormSaid[]>;
  readonly set: (pointer: string, text: string) => void;
};

/** The end of a sheet: where the animals are now, and in which stage. */
export const SheetEnd = ({ place, form, faults, set }: SheetProps & { readonly place: PlacePicture }) => {
  const names = entryNames(useRoom().reader.value);
  const texts = form.texts.value;
  const end = texts['/end'] ?? '';
  const choices = SHEET_ENDS.map((one) => [one, one === 'back-in' ? `back in ${place.name}` : names.end[one]] as const);
  const line = { texts, set, faults: faults.value };
  return (
    <>
      <Pills
        label="Where are they now?"
        value={{ value: end }}
        choices={choices}
        onChoose={(value) => set('/end', value)}
        fault={faultAt(faults.value, '/end')}
      />
      {end === 'to' || end === 'pooled' ? (
        <PlaceField
          label={end === 'to' ? 'Into' : 'Together with the animals of'}
          value={texts['/placeId'] ?? ''}
          onChoose={(value) => set('/placeId', value)}
          fault={faultAt(faults.value, '/placeId')}
        />
      ) : null}
      {end === 'pooled' ? (
        <TextLine
          label="Name of the mixed batch"
          pointer="/batchId"
          hint="Leave it out where both are of one batch."
          {...line}
        />
      ) : null}
      {end === 'split' ? <Parts place={place} form={form} faults={faults.value} /> : null}
      {end === 'dumped' ? <TextLine label="Why" pointer="/why" {...line} /> : null}
      <NextStage place={place} {...line} />
    </>
  );
};

type LineProps = {
  readonly texts: Texts;
  readonly set: SheetProps['set'];
  readonly faults: readonly FormSaid[];
};
type TextLineProps = LineProps & { readonly label: string; readonly pointer: string; readonly hint?: string };

const TextLine = ({ label, pointer, texts, set, faults, hint }: TextLineProps) => (
  <div class={faultAt(faults, pointer) === undefined ? 'field' : 'field field-wrong'}>
    <label>
      {label}
      <input value={texts[pointer] ?? ''} onInput={(event) => set(pointer, event.currentTarget.value)} />
    </label>
    <p class="field-said">{faultAt(faults, pointer) ?? hint}</p>
  </div>
);

type PartsProps = { readonly place: PlacePicture; readonly form: Form; readonly faults: readonly FormSaid[] };

const Parts = ({ place, form, faults }: PartsProps) => {
  const EMPTY: Part = { placeId: '', animals: '' };
  const parts = form.parts.value.length === 0 ? [{ ...EMPTY, placeId: place.id }, EMPTY] : form.parts.value;
  const change = (index: number, more: Partial<Part>): void => {
    form.parts.value = parts.map((part, n) => (n === index ? { ...part, ...more } : part));
  };
  return (
    <fieldset class="count-field">
      <legend>How many into which tank?</legend>
      {parts.map((part, index) => (
        <div key={`${index}`} class="form-grid">
          <PlaceField
            label="Into"
            value={part.placeId}
            onChoose={(placeId) => change(index, { placeId })}
            fault={faultAt(faults, `/to/${index}/placeId`)}
          />
          <div class={faultAt(faults, `/to/${index}/animals`) === undefined ? 'field' : 'field field-wrong'}>
            <label>
              How many
              <input
                inputMode="decimal"
                value={part.animals}
                onInput={(event) => change(index, { animals: event.currentTarget.value })}
              />
            </label>
            <p class="field-said">{faultAt(faults, `/to/${index}/animals`)}</p>
          </div>
        </div>
      ))}
      <p class="field-said">{faultAt(faults, '/to')}</p>
      <button type="button" class="pill pill-quiet" onClick={() => (form.parts.value = [...parts, EMPTY])}>
        Another tank
      </button>
    </fieldset>
  );
};

const AFTER: { readonly [stage in Stage]?: Stage } = {
  embryo: 'larva',
  larva: 'setting',
  setting: 'post-set',
  'post-set': 'nursery',
};

/** The one stage that can follow, offered; limits become tighter by themselves, wider only when it is ticked. */
const NextStage = ({ place, texts, set, faults }: LineProps & { readonly place: PlacePicture }) => {
  const next = place.stage === undefined ? undefined : AFTER[place.stage];
  if (next === undefined || texts['/end'] === 'dumped') return null;
  const stage = texts['/stage'] ?? '';
  return (
    <>
      <Pills
        label="Are they in another stage from now on?"
        value={{ value: stage }}
        choices={[
          ['', 'no'],
          [next, capital(stageName(next))],
        ]}
        onChoose={(value) => set('/stage', value)}
        fault={faultAt(faults, '/stage')}
      />
      {stage === '' ? null : (
        <Pills
          label="Limits that become tighter rule at once. Those that would become wider stay, unless you take them."
          value={{ value: texts['/accept'] ?? '' }}
          choices={[['yes', 'Take the wider limits']]}
          onChoose={(value) => set('/accept', value)}
          optional
        />
      )}
    </>
  );
};
