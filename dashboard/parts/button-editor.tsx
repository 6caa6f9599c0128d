import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { ENTRY_KINDS, type EntryKind, isEntryKind } from '../../rules/log/entry.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { Button } from '../../rules/wire/log.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { channelName } from '../../rules/words/review.js';
import { WORK_KINDS } from '../../rules/work.js';
import { type ButtonForm, buttonForm, buttonOfForm, deedOfWork, faultsOf, workOfDeed } from '../state/button-form.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { EntryFields, PlaceField, Select } from './entry-fields.js';
import { Field } from './field.js';
import { Pills } from './pills.js';

type EditorProps = { readonly button?: Versioned<Button>; readonly onDone: () => void };

/** One press writes all of it, so only what is the same at every press belongs on a button. */
const WRITES: readonly EntryKind[] = ['feeding', 'water-change', 'cleaning', 'on-site', 'note', 'uv-hours', 'filter'];

/** Setting up a button against the version that was read. */
export const ButtonEditor = ({ button, onDone }: EditorProps) => {
  const api = useApi();
  const reader = useLogReader();
  const form = useMemo(() => buttonForm(button?.body, reader), []);
  const said = useSignal<string | undefined>(undefined);
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const made = buttonOfForm(form, reader);
    form.faults.value = 'button' in made ? [] : made;
    if (!('button' in made)) return;
    const asked = await api.putButton(made.button, button?.version ?? 0);
    if (asked.ok) return onDone();
    form.faults.value = faultsOf(asked.fault);
    said.value = asked.fault.status === 412 ? CHANGED : asked.fault.detail;
  };
  const drop = async (): Promise<void> => {
    const asked = await api.dropButton(button?.body.id ?? '');
    if (asked.ok) onDone();
    else said.value = asked.fault.detail;
  };
  return (
    <form class="place-form" onSubmit={(event) => void save(event)}>
      <Which form={form} isNew={button === undefined} />
      <What form={form} />
      <p class="form-said" role="status">
        {said.value}
      </p>
      <div class="buttons">
        <button type="submit" class="night-button night-button-first">
          {button === undefined ? 'Set it up' : 'Keep the change'}
        </button>
        {button === undefined ? null : (
          <button type="button" class="night-button" onClick={() => void drop()}>
            It writes nothing any more
          </button>
        )}
      </div>
    </form>
  );
};

const CHANGED =
  'Somebody changed this button while you were writing. Nothing of yours was kept: close it and look again.';

const faultAt = ({ faults }: ButtonForm, pointer: string): string | undefined =>
  faults.value.find((one) => one.pointer === pointer)?.detail;
const faultProp = (form: ButtonForm, pointer: string) => {
  const fault = faultAt(form, pointer);
  return fault === undefined ? {} : { fault };
};

const Which = ({ form, isNew }: { form: ButtonForm; isNew: boolean }) => {
  const reader = useLogReader();
  const { channels = [] } = useRoom().picture.value ?? {};
  const contacts = channels.filter(({ quantity }) => quantity === 'contact');
  return (
    <>
      {isNew ? (
        <Field
          label="Name"
          hint="As it stands on the button: drain L2."
          value={form.name}
          {...faultProp(form, '/id')}
        />
      ) : null}
      {contacts.length === 0 ? (
        <p class="page-note">No board sends a contact yet. Name one under Boards, as a “switch”, first.</p>
      ) : (
        <Select
          label="The contact"
          value={form.channelId.value}
          onChoose={(value) => (form.channelId.value = value)}
          choices={contacts.map(({ id }) => [id, channelName(id, reader)] as const)}
          fault={faultAt(form, '/channelId')}
        />
      )}
      <Pills
        label="Pressed, it goes"
        value={form.pressed}
        choices={[
          ['on', 'on'],
          ['off', 'off'],
        ]}
        onChoose={(value) => (form.pressed.value = value)}
      />
    </>
  );
};

const What = ({ form }: { form: ButtonForm }) => {
  const reader = useLogReader();
  const deed = form.deed.value;
  const shape = isEntryKind(deed) ? ENTRY_KINDS[deed].shape : undefined;
  const works = WORK_KINDS.filter((work) => work !== 'spawning-run').map(
    (work) => [deedOfWork(work), `declares: ${namesFor(reader).work[work]}`] as const,
  );
  const entries = WRITES.map((kind) => [kind, `writes: ${capital(entryNames(reader).kind[kind])}`] as const);
  return (
    <>
      <Select
        label="What it does"
        value={deed}
        onChoose={(value) => (form.deed.value = value)}
        choices={[...works, ...entries]}
        fault={faultAt(form, '/does/kind')}
      />
      <PlaceField
        label="At which tank"
        value={form.place.value}
        onChoose={(value) => (form.place.value = value)}
        fault={faultAt(form, '/does/placeId')}
      />
      {workOfDeed(deed) === undefined ? null : (
        <Field
          label="For so long"
          value={form.minutes}
          type="number"
          unit="min"
          {...faultProp(form, '/does/minutes')}
        />
      )}
      {shape?.kind === 'fields' ? (
        <div class="form-grid">
          <EntryFields key={deed} shape={shape} texts={form.texts} faults={form.faults} without={['except']} />
        </div>
      ) : null}
    </>
  );
};
