import { useSignal } from '@preact/signals';
import type { Wakes, Way } from '../../rules/alerts/person.js';
import type { PersonPicture, WatchNow } from '../../rules/wire/waking.js';
import { momentWords } from '../../rules/words/clock.js';
import { unreachableWords, wayName } from '../../rules/words/waking.js';
import { pushMissing, subscribePhone } from '../link/phone.js';
import { waking } from '../link/waking.js';
import { AddPerson } from '../parts/add-person.js';
import { LifeLine, Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { WatchWeek } from '../parts/watch-week.js';
import { useAsked } from '../state/asked.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayChange, session } from '../state/session.js';

/** Who is woken, whether it would wake them, and the drill that tells. */
export const Watch = () => {
  const now = useAsked(waking.watchNow, 'now');
  const people = useAsked(waking.people, 'people');
  const again = (): void => {
    now.again();
    people.again();
  };
  return (
    <Page here="watch">
      <h1 class="page-title">Who is woken</h1>
      {now.answer.value.kind === 'here' ? <Now now={now.answer.value.value} /> : null}
      {people.answer.value.kind === 'refused' ? <p class="page-note">{people.answer.value.problem.detail}</p> : null}
      {people.answer.value.kind === 'here' ? <People people={people.answer.value.value} again={again} /> : null}
      {mayChange(session.value) && people.answer.value.kind === 'here' ? (
        <>
          <h2 class="page-part">Somebody new</h2>
          <AddPerson people={people.answer.value.value} done={again} />
        </>
      ) : null}
      <h2 class="page-part">The week</h2>
      <WatchWeek people={people.answer.value.kind === 'here' ? people.answer.value.value : []} again={now.again} />
      <p class="page-note">
        <a href={makeRoute({ page: 'bedside' })}>A page for the bedside</a>,{' '}
        <a href={makeRoute({ page: 'morning' })}>the morning report</a>,{' '}
        <a href={makeRoute({ page: 'season' })}>the season</a>
      </p>
      <LifeLine />
    </Page>
  );
};

const Now = ({ now: { onCall, backup, gaps, unreachable, noWayToAnswer } }: { readonly now: WatchNow }) => {
  const room = useRoom();
  const say = (atMs: number): string => momentWords(atMs, room.nowMs.value, room.reader.value);
  return (
    <>
      <p class={onCall.length === 0 ? 'not-live' : 'page-note'} role={onCall.length === 0 ? 'alert' : undefined}>
        {onCall.length === 0 ? 'Nobody is on call now' : `On call now: ${onCall.join(', ')}`}
        {backup.length === 0 ? '' : `, behind: ${backup.join(', ')}`}
      </p>
      {gaps.length === 0 ? null : (
        <p class="not-live">
          Nobody is on call from {say(gaps[0]?.fromMs ?? 0)} to {say(gaps[0]?.toMs ?? 0)}
          {gaps.length > 1 ? `, and ${gaps.length - 1} more times within the week` : ''}
        </p>
      )}
      {unreachable.map(({ personId, name, why }) => (
        <p key={personId} class="page-note">
          <b>{name}</b> cannot be counted on: {unreachableWords(why)}
        </p>
      ))}
      {noWayToAnswer ? (
        <p class="page-note">
          No way to acknowledge from outside: this gateway has no https address that a phone can reach.
        </p>
      ) : null}
    </>
  );
};

const People = ({ people, again }: { readonly people: readonly PersonPicture[]; readonly again: () => void }) => {
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
      <ol class="list-alarms">
        {people.map((person) => (
          <li key={person.id}>
            <One person={person} again={again} />
            <button type="button" class="pill" onClick={() => void drill([person.id])}>
              Drill {person.name}
            </button>
          </li>
        ))}
      </ol>
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

const One = ({ person, again }: { readonly person: PersonPicture; readonly again: () => void }) => {
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
      <b>{person.name}</b>
      {person.manager ? ', manager' : ''}
      {person.unreachable === undefined ? '' : `: ${unreachableWords(person.unreachable)}`}
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
      {pushMissing() === undefined ? (
        <button type="button" class="pill" onClick={() => void subscribe()}>
          Wake {person.name} on this phone
        </button>
      ) : (
        <p class="page-note">{pushMissing()}</p>
      )}
    </>
  );
};
