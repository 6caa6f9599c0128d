import { signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { checkSpawningPlan } from '../../rules/husbandry/spawning-plan.js';
import { ENTRY_KINDS } from '../../rules/log/entry.js';
import { isSpeciesGroupId, profileFor } from '../../rules/stage/profiles.js';
import { animalsWords } from '../../rules/words/animals.js';
import { dateWords, durationWords, momentWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { typedNumber } from '../../rules/words/figure.js';
import { lineWords } from '../../rules/words/number.js';
import { refusalSentence } from '../../rules/words/refusal.js';
import { EntryFields, PlaceField } from '../parts/entry-fields.js';
import { Initials } from '../parts/initials.js';
import { Page } from '../parts/page.js';
import { Said } from '../parts/said.js';
import { go } from '../state/address.js';
import { useAsked } from '../state/asked.js';
import { fieldsFrom, type Texts, textsFrom } from '../state/entry-draft.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';

/** Spawning runs: those that were, and the plan of the next. */
export const Runs = () => {
  const room = useRoom();
  const api = useApi();
  const reader = useLogReader();
  const { answer } = useAsked(() => api.runs(), `${room.picture.value?.sequence ?? 0}`);
  const runs = answer.value.kind === 'here' ? answer.value.value : [];
  return (
    <Page here="runs">
      <h1 class="page-title">Spawning runs</h1>
      <ol class="batches">
        {runs.map((run) => (
          <li key={run.id}>
            <a href={makeRoute({ page: 'run', id: run.id })}>
              <b>{reader.placeName(run.placeId)}</b>
              <span>
                {dateWords(run.startedMs, reader)}, {momentWords(run.startedMs, run.startedMs, reader)},{' '}
                {run.plan.animals} animals, {run.spawners.length} spawned
              </span>
              <span class="lot">
                {run.ended === undefined ? 'under way' : entryNames(reader).runEnd[run.ended.fields.why]}
                {run.eggs.length === 0
                  ? null
                  : `, ${animalsWords(
                      run.eggs.reduce((sum, { tally }) => sum + (tally?.animals ?? 0), 0),
                      reader,
                    )} eggs`}
              </span>
            </a>
          </li>
        ))}
      </ol>
      {mayAnswer(session.value) ? <Plan /> : null}
    </Page>
  );
};

const SHAPE = ENTRY_KINDS['run-plan'].shape;
const HOURS_MS = 3_600_000;

const newPlan = () => ({ texts: signal<Texts>({}), place: signal(''), until: signal('5') });

/** The plan, checked against the ceiling while it is written: nobody opens a hot supply on a plan that passes it. */
const Plan = () => {
  const room = useRoom();
  const reader = room.reader.value;
  const form = useMemo(newPlan, []);
  const { state, faults, write } = useWriter();
  usePrefill(form);
  const latestEndMs = (): number => {
    const hours = typedNumber(form.until.value, reader) ?? 0;
    return Math.round(room.nowMs.value + hours * HOURS_MS);
  };
  const fields = (): Readonly<Record<string, unknown>> => ({
    ...(fieldsFrom(SHAPE, form.texts.value, reader) as object | undefined),
    latestEndMs: latestEndMs(),
  });
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    await write({ kind: 'run-plan', placeId: form.place.value, fields: fields() });
    if (state.value.kind === 'kept') go({ page: 'run', id: state.value.entryId });
  };
  if (SHAPE.kind !== 'fields') return null;
  return (
    <form class="entry-form" onSubmit={(event) => void send(event)}>
      <header class="entry-form-head">
        <h2 class="page-part">Plan a run</h2>
        <Initials />
      </header>
      <PlaceField
        label="Tray"
        value={form.place.value}
        onChoose={(value) => (form.place.value = value)}
        fault={faults.value.find(({ pointer }) => pointer === '/placeId')?.detail}
      />
      <div class="form-grid">
        <EntryFields shape={SHAPE} texts={form.texts} faults={faults} without={['latestEndMs', 'hotSupplyId']} />
        <div class="field">
          <label>
            Ends at the latest, hours from now
            <input
              inputMode="decimal"
              value={form.until.value}
              onInput={(event) => (form.until.value = event.currentTarget.value)}
            />
          </label>
        </div>
      </div>
      <PlanWords fields={fields()} />
      <p class="cautions">
        While the run is on, its band replaces the tray's temperature limits. The ceiling always sounds. Hot water
        scalds; switch a heater off and let it cool before the water goes down.
      </p>
      <div class="answer">
        <Said state={state.value} />
        <button type="submit" class="night-button night-button-first" disabled={state.value.kind === 'sending'}>
          Start the run
        </button>
      </div>
    </form>
  );
};

const PlanWords = ({ fields }: { fields: Readonly<Record<string, unknown>> }) => {
  const reader = useRoom().reader.value;
  const read = ENTRY_KINDS['run-plan'].read({ animals: 1, ...fields }, '');
  if (!read.ok) return null;
  const checked = checkSpawningPlan(read.value);
  if (!checked.ok)
    return (
      <p class="form-said form-said-wrong" role="alert">
        {refusalSentence(checked.fault, reader)}
      </p>
    );
  const { peakC, headroomC, runMin } = checked.value;
  return (
    <p class="count-says" role="status">
      Warm phases at {lineWords('temperature', peakC, reader)}, {headroomC >= 0 ? 'below' : 'above'} the ceiling of{' '}
      {lineWords('temperature', read.value.ceilingC, reader)}; {durationWords(runMin * 60_000, reader)} of phases in
      all.
    </p>
  );
};

/** From the profile of the tray's animals, and the tray's own water. A figure of a profile is where to start, not an order. */
const usePrefill = (form: ReturnType<typeof newPlan>): void => {
  const room = useRoom();
  const place = room.picture.value?.places.find(({ id }) => id === form.place.value);
  const group = place?.speciesGroup;
  useEffect(() => {
    if (group === undefined || !isSpeciesGroupId(group)) return;
    const profile = profileFor(group, 'spawning');
    const cycle = profile?.thermalCycle;
    const fields = {
      ambientC: cycle?.ambientC.low,
      coolC: cycle?.coolC.low,
      riseC: cycle?.riseC.low,
      holdMin: cycle?.holdMin.low,
      cycles: cycle?.cyclesMax.value,
      ceilingC: profile?.temperatureC.ceiling?.value,
    };
    const known = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
    form.texts.value = { ...textsFrom(SHAPE, known, room.reader.value), ...form.texts.value };
  }, [group]);
};
