import { useSignal } from '@preact/signals';
import type { WatchPlan, WatchRole } from '../../rules/alerts/watch-plan.js';
import type { PersonPicture } from '../../rules/wire/waking.js';
import { clockWords, dateWords, wallMs, wallText } from '../../rules/words/clock.js';
import { useRoom } from '../state/room.js';
import { Choice } from './field.js';
import { MomentField } from './moment-field.js';
import { Pills } from './pills.js';
import { WakingForm } from './waking-form.js';

const HOUR_MS = 3_600_000;

type ChangesProps = {
  readonly plan: WatchPlan;
  readonly people: readonly PersonPicture[];
  readonly save: (plan: WatchPlan) => void;
};

const KINDS = [
  ['on-call', 'Takes the watch'],
  ['backup', 'Stands behind'],
  ['away', 'Is away'],
] as const;

/** Swaps and holidays that are still to come or under way, and a form for the next. */
export const WatchChanges = ({ plan, people, save }: ChangesProps) => {
  const room = useRoom();
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const nameOf = (id: string): string => people.find((one) => one.id === id)?.name ?? id;
  const span = ({ fromMs, toMs }: { readonly fromMs: number; readonly toMs: number }): string =>
    `${dateWords(fromMs, reader)}, ${clockWords(fromMs, reader)} to ${dateWords(toMs, reader)}, ${clockWords(toMs, reader)}`;
  const swaps = plan.swaps.filter(({ toMs }) => toMs > nowMs);
  const holidays = plan.holidays.filter(({ toMs }) => toMs > nowMs);
  return (
    <>
      {swaps.length + holidays.length === 0 ? <p class="page-note">No swap and no holiday is written.</p> : null}
      <ul class="plain-list">
        {swaps.map((swap) => (
          <li key={`${swap.personId} ${swap.fromMs}`}>
            <b>{nameOf(swap.personId)}</b> {swap.role === 'on-call' ? 'takes the watch' : 'stands behind'}, {span(swap)}{' '}
            <TakeOut onClick={() => save({ ...plan, swaps: plan.swaps.filter((one) => one !== swap) })} />
          </li>
        ))}
        {holidays.map((holiday) => (
          <li key={`${holiday.personId} ${holiday.fromMs}`}>
            <b>{nameOf(holiday.personId)}</b> is away, {span(holiday)}{' '}
            <TakeOut onClick={() => save({ ...plan, holidays: plan.holidays.filter((one) => one !== holiday) })} />
          </li>
        ))}
      </ul>
      {people.length === 0 ? null : <AddChange plan={plan} people={people} save={save} />}
    </>
  );
};

const TakeOut = ({ onClick }: { readonly onClick: () => void }) => (
  <button type="button" class="plain edit-word" onClick={onClick}>
    take out
  </button>
);

const AddChange = ({ plan, people, save }: ChangesProps) => {
  const room = useRoom();
  const { zone } = room.reader.value;
  const startMs = Math.ceil(room.nowMs.peek() / HOUR_MS) * HOUR_MS;
  const who = useSignal(people[0]?.id ?? '');
  const kind = useSignal<string>('on-call');
  const from = useSignal(wallText(startMs, zone));
  const to = useSignal(wallText(startMs + 24 * HOUR_MS, zone));
  const said = useSignal<string | undefined>(undefined);
  const add = (): void => {
    const [fromMs, toMs] = [wallMs(from.value, zone), wallMs(to.value, zone)];
    if (fromMs === undefined || toMs === undefined || fromMs >= toMs) {
      said.value = 'It must end after it begins: choose both moments.';
      return;
    }
    said.value = undefined;
    const span = { personId: who.value, fromMs, toMs };
    save(
      kind.value === 'away'
        ? { ...plan, holidays: [...plan.holidays, span] }
        : { ...plan, swaps: [...plan.swaps, { ...span, role: kind.value as WatchRole }] },
    );
  };
  return (
    <WakingForm
      send={add}
      said={said.value}
      buttons={
        <button type="submit" class="pill">
          Add
        </button>
      }
    >
      <div class="form-grid">
        <Choice label="Who" value={who} choices={people.map(({ id, name }) => [id, name] as const)} />
        <MomentField label="From" value={from} />
        <MomentField label="To" value={to} />
      </div>
      <Pills
        label="What"
        value={kind}
        onChoose={(value) => {
          kind.value = value;
        }}
        choices={KINDS}
      />
    </WakingForm>
  );
};
