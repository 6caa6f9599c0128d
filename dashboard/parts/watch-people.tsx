import { useSignal } from '@preact/signals';
import type { Wakes, Way } from '../../rules/alerts/person.js';
import type { PersonPicture } from '../../rules/wire/waking.js';
import { unreachableWords, wayName } from '../../rules/words/waking.js';
import { pushMissing, subscribePhone } from '../link/phone.js';
import { waking } from '../link/waking.js';
import { mayChange, session } from '../state/session.js';
import { ChangePerson } from './change-person.js';
import { Pills } from './pills.js';

/** Everybody who may be woken, what of it really wakes them, and the drill that tells. */
export const WatchPeople = ({
  people,
  again,
}: {
  readonly people: readonly PersonPicture[];
  readonly again: () => void;
}) => {
  const said = useSignal<string | undefined>(undefined);
  const drill = async (ids?: readonly string[]): Promise<void> => {
    const asked = await waking.drill(ids);
    said.value = asked.ok
      ? `${asked.value.messages} test calls are on their way. Say below which of them would have woken you.`
      : asked.fault.detail;
  };
  return (
    <>
      <p role="status">{said.value}</p>
      {people.length === 0 ? <p class="page-note">Nobody yet: without people nobody is woken.</p> : null}
      <ol class="watch-people">
        {people.map((person) => (
          <li key={person.id}>
            <One person={person} again={again} drill={() => void drill([person.id])} />
          </li>
        ))}
      </ol>
      {pushMissing() === undefined ? null : <p class="page-note">{pushMissing()}</p>}
      {people.length === 0 ? null : (
        <button type="button" class="night-button" onClick={() => void drill()}>
          Drill everybody, now
        </button>
      )}
    </>
  );
};

const WAKES: readonly (readonly [Wakes, string])[] = [
  ['yes', 'Yes'],
  ['no', 'No'],
  ['not-tried', 'Not tried'],
];
const isWakes = (text: string): text is Wakes => WAKES.some(([wakes]) => wakes === text);

type OneProps = { readonly person: PersonPicture; readonly again: () => void; readonly drill: () => void };

const One = ({ person, again, drill }: OneProps) => {
  const open = useSignal(false);
  const said = useSignal<string | undefined>(undefined);
  const tried = async (way: Way, wakes: string): Promise<void> => {
    if (!isWakes(wakes)) return;
    const asked = await waking.tried(person.id, way, wakes);
    said.value = asked.ok ? undefined : asked.fault.detail;
    again();
  };
  const subscribe = async (): Promise<void> => {
    said.value = (await subscribePhone(person.id, 'this phone')) ?? 'This phone will be called. Try it with a drill.';
    again();
  };
  return (
    <>
      <p class="watch-name">
        <b>{person.name}</b>
        {person.manager ? ', manager' : ''}
        {person.unreachable === undefined ? '' : `: ${unreachableWords(person.unreachable)}`}
      </p>
      {person.ways.map(({ way, wakes }) => (
        <div key={way} class="watch-way">
          <Pills
            label={`${wayName(way)}: did it ring through silent?`}
            value={{ value: wakes }}
            onChoose={(value) => void tried(way, value)}
            choices={WAKES}
          />
        </div>
      ))}
      <p role="status">{said.value}</p>
      <div class="pill-row">
        <button type="button" class="pill" onClick={drill}>
          Drill {person.name}
        </button>
        {pushMissing() === undefined ? (
          <button type="button" class="pill" onClick={() => void subscribe()}>
            Wake {person.name} on this phone
          </button>
        ) : null}
        {mayChange(session.value) ? (
          <button
            type="button"
            class="pill pill-quiet"
            aria-expanded={open.value}
            onClick={() => (open.value = !open.value)}
          >
            {open.value ? 'Leave as it is' : 'Change'}
          </button>
        ) : null}
      </div>
      {open.value ? (
        <ChangePerson
          key={person.version}
          person={person}
          done={() => {
            open.value = false;
            again();
          }}
        />
      ) : null}
    </>
  );
};
