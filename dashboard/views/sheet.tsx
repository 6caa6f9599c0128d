import { effect, signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { ENTRY_KINDS } from '../../rules/log/entry.js';
import type { PlacePicture } from '../../rules/wire/picture.js';
import { fieldLabel } from '../../rules/words/entry-field.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { stageName } from '../../rules/words/name.js';
import { EntryFields, faultAt } from '../parts/entry-fields.js';
import { Initials } from '../parts/initials.js';
import { Page } from '../parts/page.js';
import { ManyPills, Pills } from '../parts/pills.js';
import { Said } from '../parts/said.js';
import { SheetEnd, type SheetProps } from '../parts/sheet-end.js';
import { WorkStrip } from '../parts/work-strip.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { keepSheet, keptSheet, sheetFields } from '../state/sheet-form.js';
import { useWriter } from '../state/writing.js';

/** Openings of usual screens, µm. */
const SCREENS = ['35', '48', '60', '80', '100', '125', '150', '180', '200', '250'];

/** The drain-down sheet: one sheet from the opened drain to where the animals are now. */
export const Sheet = ({ id }: { readonly id: string }) => {
  const place = useRoom().picture.value?.places.find((one) => one.id === id);
  if (place === undefined) return <Page here="sheet">{null}</Page>;
  return (
    <Page here="sheet" about={id}>
      <SheetOf key={id} place={place} />
    </Page>
  );
};

/** A phone that falls asleep keeps the sheet: it is put away with every letter. */
const useForm = (place: PlacePicture) => {
  const form = useMemo(() => {
    const { texts, parts } = keptSheet(place.id);
    return { texts: signal(texts), parts: signal(parts) };
  }, []);
  useEffect(() => effect(() => keepSheet(place.id, { texts: form.texts.value, parts: form.parts.value })), []);
  return form;
};

const SheetOf = ({ place }: { place: PlacePicture }) => {
  const room = useRoom();
  const form = useForm(place);
  const { state, faults, write } = useWriter();
  const set = (pointer: string, text: string): void => {
    form.texts.value = { ...form.texts.value, [pointer]: text };
  };
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const started = place.work?.kind === 'drain-down' ? { startedMs: place.work.fromMs } : {};
    const fields = sheetFields({ texts: form.texts.value, parts: form.parts.value, ...started }, room.reader.value);
    if (!(await write({ kind: 'drain-down', placeId: place.id, fields }))) return;
    form.texts.value = {};
    form.parts.value = [];
  };
  const isWritten = state.value.kind === 'kept' || state.value.kind === 'waiting';
  const about = [place.batch, place.stage === undefined ? undefined : stageName(place.stage)];
  return (
    <form class="entry-form" onSubmit={(event) => void send(event)}>
      <header class="entry-form-head">
        <h1 class="page-title">{place.name}: drain-down sheet</h1>
        <Initials />
      </header>
      <p class="entry-place">{about.filter((word) => word !== undefined).join(', ')}</p>
      {place.work === undefined ? null : <WorkStrip place={place} work={place.work} onSheet />}
      <Figures form={form} faults={faults} set={set} />
      <SheetEnd place={place} form={form} faults={faults} set={set} />
      <div class="answer">
        <Said state={state.value} />
        {isWritten ? (
          <a class="night-button" href={makeRoute({ page: 'tank', id: place.id })}>
            Back to {place.name}
          </a>
        ) : (
          <button type="submit" class="night-button night-button-first" disabled={state.value.kind === 'sending'}>
            Write the sheet
          </button>
        )}
      </div>
    </form>
  );
};

const SHAPE = ENTRY_KINDS['drain-down'].shape;
/** Drawn by hand: choices of the thumb, and where the animals go. */
const BY_HAND = [
  'startedMs',
  'screensUm',
  'swimming',
  'gut',
  'stage',
  'end',
  'placeId',
  'to',
  'batchId',
  'why',
  'accept',
];

const Figures = ({ form, faults, set }: SheetProps) => {
  const names = entryNames(useRoom().reader.value);
  const texts = form.texts.value;
  if (SHAPE.kind !== 'fields') return null;
  const screens = (texts['/screensUm'] ?? '').split(' ').filter((one) => one !== '');
  return (
    <>
      <ManyPills
        label="Screens, µm"
        chosen={screens}
        choices={SCREENS.map((one) => [one, one] as const)}
        onChange={(chosen) => set('/screensUm', chosen.join(' '))}
      />
      <div class="form-grid">
        <EntryFields shape={SHAPE} texts={form.texts} faults={faults} without={BY_HAND} />
      </div>
      {(['swimming', 'gut'] as const).map((name) => (
        <Pills
          key={name}
          label={fieldLabel(name)}
          value={{ value: texts[`/${name}`] ?? '' }}
          choices={Object.entries(names[name])}
          onChoose={(value) => set(`/${name}`, value)}
          optional
          fault={faultAt(faults.value, `/${name}`)}
        />
      ))}
    </>
  );
};
