import { useSignal } from '@preact/signals';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { PersonPicture } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { useAsked } from '../state/asked.js';
import { mayAnswer, session } from '../state/session.js';
import { Choice } from './field.js';
import { WatchChanges } from './watch-changes.js';
import { WatchHours } from './watch-hours.js';

const DAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];
const NOBODY = '';

/** Who has the watch of each day, from one morning to the next, and who is behind. */
export const WatchWeek = ({
  people,
  again,
}: {
  readonly people: readonly PersonPicture[];
  readonly again: () => void;
}) => {
  const { answer, again: askAgain } = useAsked(waking.watch, 'watch');
  if (answer.value.kind !== 'here') return null;
  const done = (): void => {
    askAgain();
    again();
  };
  return <Week key={answer.value.value.version} plan={answer.value.value} people={people} done={done} />;
};

type WeekProps = {
  readonly plan: Versioned<WatchPlan>;
  readonly people: readonly PersonPicture[];
  readonly done: () => void;
};

const Week = ({ plan: { body, version }, people, done }: WeekProps) => {
  const said = useSignal<string | undefined>(undefined);
  const held = (weekday: number, role: 'on-call' | 'backup'): string =>
    body.shifts.find((shift) => shift.weekday === weekday && shift.role === role)?.personId ?? NOBODY;
  const save = async (plan: WatchPlan): Promise<void> => {
    const asked = await waking.putWatch(plan, version);
    said.value = asked.ok ? undefined : asked.fault.detail;
    if (asked.ok) done();
  };
  const choose = async (weekday: number, role: 'on-call' | 'backup', personId: string): Promise<void> => {
    const others = body.shifts.filter((shift) => shift.weekday !== weekday || shift.role !== role);
    const mine =
      personId === NOBODY ? [] : [{ weekday, role, personId, fromMinute: body.dayFromMinute, minutes: 1_440 }];
    await save({ ...body, shifts: [...others, ...mine] });
  };
  const names = people.map(({ id, name }) => [id, name] as const);
  return (
    <>
      <p class="form-said said-alarm" role="alert">
        {said.value}
      </p>
      <div class="week">
        {DAYS.map((day, index) => (
          <fieldset key={day} class="pills" disabled={!mayAnswer(session.value)}>
            <legend>{day}, until the next morning</legend>
            <Pick
              label="On call"
              value={held(index + 1, 'on-call')}
              names={names}
              onChoose={(id) => void choose(index + 1, 'on-call', id)}
            />
            <Pick
              label="Behind"
              value={held(index + 1, 'backup')}
              names={names}
              onChoose={(id) => void choose(index + 1, 'backup', id)}
            />
          </fieldset>
        ))}
      </div>
      {mayAnswer(session.value) ? (
        <>
          <h2 class="page-part">Swaps and holidays</h2>
          <WatchChanges plan={body} people={people} save={(plan) => void save(plan)} />
          <h2 class="page-part">Hours</h2>
          <WatchHours plan={body} save={(plan) => void save(plan)} />
        </>
      ) : null}
    </>
  );
};

type PickProps = {
  readonly label: string;
  readonly value: string;
  readonly names: readonly (readonly [string, string])[];
  readonly onChoose: (id: string) => void;
};

const Pick = ({ label, value, names, onChoose }: PickProps) => {
  const shown = useSignal(value);
  return (
    <div onChange={() => onChoose(shown.value)}>
      <Choice label={label} value={shown} choices={[[NOBODY, 'nobody'], ...names]} />
    </div>
  );
};
