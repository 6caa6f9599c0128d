import { type Signal, signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { type Place, REGIMES } from '../../rules/place.js';
import type { Quantity } from '../../rules/quantity.js';
import { SPECIES_GROUPS } from '../../rules/stage/profiles.js';
import { STAGES } from '../../rules/stage/stage.js';
import type { Problem, Versioned } from '../../rules/wire/api.js';
import type { Reader } from '../../rules/words/language.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { unitWords } from '../../rules/words/number.js';
import { LINE_WORDS } from '../../rules/words/setting-field.js';
import { useAsked } from '../state/asked.js';
import type { Texts } from '../state/entry-draft.js';
import { useApi } from '../state/gateway.js';
import { FORM_LINES, FORM_QUANTITIES, type FormFault, formOf, lineKey, placeOfForm } from '../state/place-form.js';
import { moreOf, withMore } from '../state/place-more.js';
import { useRoom } from '../state/room.js';
import { Choice, Field } from './field.js';
import { PlaceMore } from './place-more.js';
import { TakeOut } from './place-take-out.js';

/** Changing one place, against the version that was read: what somebody else changed meanwhile is never overwritten. */
export const PlaceEditor = ({ id, onDone }: { readonly id: string; readonly onDone: () => void }) => {
  const api = useApi();
  const { answer, again } = useAsked(() => api.place(id), id);
  if (answer.value.kind === 'waiting') return <p class="page-note">Fetching …</p>;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const place = answer.value.value;
  return <Editor key={place.version} place={place} onDone={onDone} onAgain={again} />;
};

type Draft = {
  readonly fields: {
    readonly [field in 'name' | 'lineId' | 'stage' | 'speciesGroup' | 'regime' | 'volumeL']: Signal<string>;
  };
  readonly lines: Readonly<Record<string, Signal<string>>>;
  /** What stands in the further fields. */
  readonly more: Signal<Texts>;
  readonly faults: Signal<readonly FormFault[]>;
  readonly problem: Signal<Problem | undefined>;
};

const draftOf = (place: Place, reader: Reader): Draft => {
  const { lines, ...fields } = formOf(place, reader);
  return {
    fields: {
      name: signal(fields.name),
      lineId: signal(fields.lineId),
      stage: signal(fields.stage),
      speciesGroup: signal(fields.speciesGroup),
      regime: signal(fields.regime),
      volumeL: signal(fields.volumeL),
    },
    lines: Object.fromEntries(Object.entries(lines).map(([key, text]) => [key, signal(text)])),
    more: signal(moreOf(place, reader)),
    faults: signal<readonly FormFault[]>([]),
    problem: signal<Problem | undefined>(undefined),
  };
};

/** `/volumeL` is `volumeL` in the form, `/wants/temperature/limitHigh` is `temperature.limitHigh`. */
const fieldOf = (pointer: string): string => pointer.replace(/^\/(wants\/|bed\/)?/, '').replace('/', '.');

type EditorProps = { readonly place: Versioned<Place>; readonly onDone: () => void; readonly onAgain: () => void };

const Editor = ({ place, onDone, onAgain }: EditorProps) => {
  const room = useRoom();
  const api = useApi();
  const reader = room.reader.value;
  const draft = useMemo(() => draftOf(place.body, reader), [place]);
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const typed = {
      name: draft.fields.name.value,
      lineId: draft.fields.lineId.value,
      stage: draft.fields.stage.value,
      speciesGroup: draft.fields.speciesGroup.value,
      regime: draft.fields.regime.value,
      volumeL: draft.fields.volumeL.value,
      lines: Object.fromEntries(Object.entries(draft.lines).map(([key, text]) => [key, text.value])),
    };
    const basics = placeOfForm(place.body, typed, reader);
    const made = basics.ok ? withMore(basics.value, draft.more.value, reader) : basics;
    draft.faults.value = made.ok ? [] : made.fault;
    if (!made.ok) return;
    const asked = await api.changePlace(made.value, place.version);
    if (asked.ok) return onDone();
    draft.faults.value = (asked.fault.faults ?? []).map(({ pointer, detail }) => ({ field: fieldOf(pointer), detail }));
    draft.problem.value = asked.fault;
  };
  return (
    <form class="place-form" onSubmit={(event) => void save(event)}>
      <Basics draft={draft} place={place.body} />
      <PlaceMore place={place.body} texts={draft.more} faults={draft.faults.value} />
      {place.body.kind === 'tank' ? <OwnLines draft={draft} /> : null}
      <Refused problem={draft.problem.value} onAgain={onAgain} />
      <button type="submit" class="night-button night-button-first">
        Keep the change
      </button>
      <TakeOut place={place} onDone={onDone} />
    </form>
  );
};

/** A conflict is told as what it is, with the one way on. */
const Refused = ({ problem, onAgain }: { problem: Problem | undefined; onAgain: () => void }) => {
  if (problem === undefined) return null;
  if (problem.status !== 412)
    return (
      <p class="form-said" role="alert">
        {problem.detail}
      </p>
    );
  return (
    <p class="form-said" role="alert">
      Somebody changed this place while you were writing. Nothing of yours was kept.{' '}
      <button type="button" class="plain edit-word" onClick={onAgain}>
        Show theirs
      </button>
    </p>
  );
};

const faultOf = (draft: Draft, field: string): { readonly fault?: string } => {
  const found = draft.faults.value.find((one) => one.field === field);
  return found === undefined ? {} : { fault: found.detail };
};

const GROUPS = [['', 'not said'], ...SPECIES_GROUPS.map(({ id, name }) => [id, name] as const)] as const;

const Basics = ({ draft, place }: { draft: Draft; place: Place }) => {
  const room = useRoom();
  const names = namesFor(room.reader.value);
  const lines = (room.picture.value?.places ?? []).filter(({ kind }) => kind === 'line');
  const { fields } = draft;
  if (place.kind !== 'tank') return <Field label="Name" value={fields.name} {...faultOf(draft, 'name')} />;
  return (
    <div class="form-grid">
      <Field label="Name" value={fields.name} {...faultOf(draft, 'name')} />
      <Choice
        label="Supply line"
        value={fields.lineId}
        choices={[['', 'none'], ...lines.map(({ id, name }) => [id, name] as const)]}
      />
      <Choice
        label="Holds"
        value={fields.stage}
        choices={[['', 'not said'], ...STAGES.map((stage) => [stage, names.stage[stage]] as const)]}
        hint="Decides what its water should be."
      />
      <Choice label="Animals" value={fields.speciesGroup} choices={GROUPS} />
      <Choice
        label="Water"
        value={fields.regime}
        choices={[['', 'not said'], ...REGIMES.map((regime) => [regime, names.regime[regime]] as const)]}
      />
      <Field label="Volume" value={fields.volumeL} type="number" unit="L" {...faultOf(draft, 'volumeL')} />
    </div>
  );
};

/** Lines of this tank's own, over what its stage says; empty means "as the stage says". */
const OwnLines = ({ draft }: { draft: Draft }) => (
  <fieldset class="own-lines">
    <legend>Lines of its own</legend>
    <p class="field-said">
      Left empty, the stage decides. A limit sounds; a target only advises; a ceiling is never to be passed.
    </p>
    {FORM_QUANTITIES.map((quantity) => (
      <OwnLine key={quantity} quantity={quantity} draft={draft} />
    ))}
  </fieldset>
);

const OwnLine = ({ quantity, draft }: { quantity: Quantity; draft: Draft }) => {
  const reader = useRoom().reader.value;
  return (
    <div class="own-line">
      <p>
        {capital(namesFor(reader).quantity[quantity])} <small>{unitWords(quantity, reader)}</small>
      </p>
      {FORM_LINES.map((line) => {
        const key = lineKey(quantity, line);
        const text = draft.lines[key];
        return text === undefined ? null : (
          <Field key={key} label={LINE_WORDS[line]} value={text} type="number" {...faultOf(draft, key)} />
        );
      })}
    </div>
  );
};
