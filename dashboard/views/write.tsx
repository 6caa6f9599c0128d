import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { ENTRY_KINDS, type Entry, type EntryKind, isEntryKind, needsPlace } from '../../rules/log/entry.js';
import type { LogLine } from '../../rules/wire/log.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { EntryFields, PlaceField } from '../parts/entry-fields.js';
import { Initials } from '../parts/initials.js';
import { Page } from '../parts/page.js';
import { PhotoField } from '../parts/photo-field.js';
import { Pills } from '../parts/pills.js';
import { Said } from '../parts/said.js';
import { WaitingList } from '../parts/waiting-list.js';
import { WriteButtons } from '../parts/write-buttons.js';
import { go } from '../state/address.js';
import { useAsked } from '../state/asked.js';
import { fieldsFrom, type Texts, textsFrom } from '../state/entry-draft.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { type FormSaid, useWriter } from '../state/writing.js';

type WriteProps = {
  readonly place: string | undefined;
  readonly kind: string | undefined;
  readonly corrects: string | undefined;
};

/** Writing an entry: which, where, what. From a tank the first two are known, so that two taps are enough. */
export const Write = ({ place, kind, corrects }: WriteProps) => (
  <Page here="write" about={place ?? ''}>
    {kind !== undefined && isEntryKind(kind) ? (
      <EntryForm key={`${kind} ${place} ${corrects}`} kind={kind} place={place ?? ''} corrects={corrects} />
    ) : (
      <>
        <h1 class="page-title">What was done?</h1>
        <WriteButtons place={place} all />
      </>
    )}
    <WaitingList />
  </Page>
);

const MINUTE_MS = 60_000;
const AGO = [
  ['0', 'now'],
  ['15', '15 min ago'],
  ['60', '1 h ago'],
  ['180', '3 h ago'],
] as const;

type FormProps = { readonly kind: EntryKind; readonly place: string; readonly corrects: string | undefined };

const EntryForm = ({ kind, place, corrects }: FormProps) => {
  const room = useRoom();
  const form = useMemo(() => newForm(place), []);
  const { state, faults, write } = useWriter();
  const earlier = useEarlier(kind, place, corrects, form);
  const { shape } = ENTRY_KINDS[kind];
  const batches = room.picture.value?.places.find(({ id }) => id === form.place.value)?.batch?.split(' + ') ?? [];
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const fields = fieldsFrom(shape, form.texts.value, room.reader.value) ?? {};
    const placeId = form.place.value === '' ? undefined : form.place.value;
    const ago = Number(form.ago.value) * MINUTE_MS;
    const atMs =
      corrects === undefined ? Math.round(room.nowMs.value) - ago : (earlier?.atMs ?? Math.round(room.nowMs.value));
    const kept = await write({
      kind,
      placeId,
      fields,
      atMs,
      corrects,
      note: form.note.value,
      photos: form.photos.value,
    });
    if (kept) form.photos.value = [];
  };
  const isWritten = state.value.kind === 'kept' || state.value.kind === 'waiting';
  return (
    <form class="entry-form" onSubmit={(event) => void send(event)}>
      <header class="entry-form-head">
        <h1 class="page-title">
          {corrects === undefined ? null : 'Correct: '}
          {capital(entryNames(room.reader.value).kind[kind])}
        </h1>
        <Initials />
      </header>
      {place !== '' ? <PlaceName id={place} /> : needsPlace(kind) ? <Where form={form} faults={faults.value} /> : null}
      <div class="form-grid">
        <EntryFields shape={shapeOf(kind)} texts={form.texts} faults={faults} without={notAskedOf(kind, batches)} />
      </div>
      {corrects === undefined ? (
        <Pills label="When" value={form.ago} choices={AGO} onChoose={(value) => (form.ago.value = value)} />
      ) : null}
      <More form={form} />
      <div class="answer">
        <Said state={state.value} />
        {corrects !== undefined && state.value.kind === 'refused' ? <LookAgain id={corrects} /> : null}
        <button type="submit" class="night-button night-button-first" disabled={state.value.kind === 'sending'}>
          {isWritten ? 'Write another' : corrects === undefined ? 'Write it' : 'Write the correction'}
        </button>
      </div>
    </form>
  );
};

/** Which batch is asked only where several are in one water, or where it begins. */
const notAskedOf = (kind: EntryKind, batches: readonly string[]): readonly string[] =>
  batches.length <= 1 && OF_ONE_BATCH.has(kind) ? ['batchId'] : [];
const OF_ONE_BATCH: ReadonlySet<EntryKind> = new Set(['count', 'deaths', 'cull', 'sample', 'sale']);

const shapeOf = (kind: EntryKind): Extract<(typeof ENTRY_KINDS)[EntryKind]['shape'], { kind: 'fields' }> => {
  const { shape } = ENTRY_KINDS[kind];
  if (shape.kind !== 'fields') throw new Error(`${kind} has no fields`);
  return shape;
};

/** Somebody was quicker: their version comes into the form, and the next correction is of that one. */
const LookAgain = ({ id }: { id: string }) => {
  const api = useApi();
  const look = async (): Promise<void> => {
    const asked = await api.entry(id);
    if (!asked.ok || asked.value.replacedBy === undefined) return;
    const now = await api.entry(asked.value.replacedBy);
    if (!now.ok) return;
    const { kind, placeId = '' } = now.value.entry;
    go({ page: 'write', kind, place: placeId, corrects: asked.value.replacedBy });
  };
  return (
    <p>
      <button type="button" class="plain edit-word" onClick={() => void look()}>
        Look at it as it is now
      </button>
    </p>
  );
};

const newForm = (place: string) => ({
  texts: signal<Texts>({}),
  place: signal(place),
  ago: signal('0'),
  note: signal(''),
  photos: signal<readonly Blob[]>([]),
  photoSaid: signal(''),
});
type Form = ReturnType<typeof newForm>;

const PlaceName = ({ id }: { id: string }) => {
  const place = useRoom().picture.value?.places.find((one) => one.id === id);
  return <p class="entry-place">{place?.name ?? id}</p>;
};

const Where = ({ form, faults }: { form: Form; faults: readonly FormSaid[] }) => (
  <PlaceField
    label="Tank"
    value={form.place.value}
    onChoose={(value) => (form.place.value = value)}
    fault={faults.find(({ pointer }) => pointer === '/placeId')?.detail}
  />
);

const More = ({ form }: { form: Form }) => (
  <details class="entry-more">
    <summary>Note or photo</summary>
    <div class="field">
      <label>
        Note
        <textarea rows={3} value={form.note.value} onInput={(event) => (form.note.value = event.currentTarget.value)} />
      </label>
    </div>
    <PhotoField photos={form.photos} said={form.photoSaid} />
  </details>
);

/** Kinds whose last entry is most likely this one's: six litres yesterday, six litres today. */
const REPEATS: ReadonlySet<EntryKind> = new Set([
  'feeding',
  'water-change',
  'cleaning',
  'disinfection',
  'calibration',
  'culture',
  'filter',
]);
const DAYS_MS = 45 * 86_400_000;

/** Fills the form from what is corrected, or from the last entry of its kind here. Nothing that was typed is overwritten. */
const useEarlier = (kind: EntryKind, place: string, corrects: string | undefined, form: Form): Entry | undefined => {
  const room = useRoom();
  const api = useApi();
  // Before the gateway has spoken the time is the device's own, and may lie in its future.
  const isHere = room.picture.value !== undefined;
  const from = String(Math.max(0, Math.round(room.nowMs.peek() - DAYS_MS)));
  const { answer } = useAsked<LogLine | undefined>(
    async () =>
      corrects !== undefined
        ? api.entry(corrects)
        : REPEATS.has(kind) && isHere
          ? lastOf(await api.log({ kind, from, ...(place === '' ? {} : { place }) }))
          : { ok: true as const, value: undefined },
    `${kind} ${place} ${corrects} ${isHere}`,
  );
  const earlier = answer.value.kind === 'here' ? answer.value.value?.entry : undefined;
  useEffect(() => {
    if (earlier === undefined || Object.keys(form.texts.value).length > 0) return;
    form.texts.value = textsFrom(ENTRY_KINDS[earlier.kind].shape, earlier.fields, room.reader.value);
    if (corrects !== undefined) form.note.value = earlier.note ?? '';
  }, [earlier]);
  return earlier;
};

type Lines = Awaited<ReturnType<ReturnType<typeof useApi>['log']>>;
const lastOf = (asked: Lines) =>
  asked.ok
    ? {
        ok: true as const,
        value: asked.value.findLast(({ replacedBy, struck }) => replacedBy === undefined && struck !== true),
      }
    : asked;
