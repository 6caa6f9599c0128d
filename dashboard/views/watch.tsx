import type { WatchNow } from '../../rules/wire/waking.js';
import { momentWords } from '../../rules/words/clock.js';
import { waking } from '../link/waking.js';
import { AddPerson } from '../parts/add-person.js';
import { Lacks } from '../parts/lacks.js';
import { LifeLine, Page } from '../parts/page.js';
import { WatchPeople } from '../parts/watch-people.js';
import { WatchWeek } from '../parts/watch-week.js';
import { useAsked } from '../state/asked.js';
import { useRoom } from '../state/room.js';
import { makeRoute, type Route } from '../state/route.js';
import { mayChange, session } from '../state/session.js';

const PAGES: readonly { readonly to: Route; readonly word: string; readonly manager?: true }[] = [
  { to: { page: 'bedside' }, word: 'Bedside' },
  { to: { page: 'morning' }, word: 'Morning report' },
  { to: { page: 'season' }, word: 'Season' },
  { to: { page: 'round' }, word: 'Who is on site' },
  { to: { page: 'ladders' }, word: 'Ladders' },
  { to: { page: 'ways-out' }, word: 'Ways out', manager: true },
  { to: { page: 'figures' }, word: 'How the alarms behave', manager: true },
];

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
      <nav class="pill-row watch-pages" aria-label="About waking">
        {PAGES.filter(({ manager }) => !manager || mayChange(session.value)).map(({ to, word }) => (
          <a key={word} class="pill" href={makeRoute(to)}>
            {word}
          </a>
        ))}
      </nav>
      {now.answer.value.kind === 'here' ? <Now now={now.answer.value.value} /> : null}
      {people.answer.value.kind === 'refused' ? <p class="page-note">{people.answer.value.problem.detail}</p> : null}
      {people.answer.value.kind === 'here' ? <WatchPeople people={people.answer.value.value} again={again} /> : null}
      {mayChange(session.value) && people.answer.value.kind === 'here' ? (
        <>
          <h2 class="page-part">Somebody new</h2>
          <AddPerson people={people.answer.value.value} done={again} />
        </>
      ) : null}
      <h2 class="page-part">The week</h2>
      <WatchWeek people={people.answer.value.kind === 'here' ? people.answer.value.value : []} again={now.again} />
      <LifeLine />
    </Page>
  );
};

const Now = ({ now: { onCall, backup, gaps, lacks } }: { readonly now: WatchNow }) => {
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
      <Lacks lacks={lacks.filter(({ kind }) => kind !== 'nobody-on-call')} />
    </>
  );
};
