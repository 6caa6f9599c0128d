import { clockWords } from '../../rules/words/clock.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { useSteady } from '../state/steady.js';
import { aliveWords } from './alive-words.js';
import { LightSwitch } from './light-switch.js';
import { Pulse } from './pulse.js';
import { useUnwatchedWords } from './unwatched-words.js';

/** The foot of the wall: the clock, the life of the room, and what nobody is woken for. */
export const Foot = () => {
  const room = useRoom();
  const words = useSteady(() => aliveWords(room.alive.value, room.nowMs.value, room.reader.value), [room]);
  const clock = useSteady(() => clockWords(room.nowMs.value, room.reader.value), [room]);
  return (
    <footer class={words.loud ? 'foot foot-loud' : 'foot'}>
      <time class="foot-clock">{clock}</time>
      {words.loud ? null : <Pulse />}
      <p class="foot-alive">
        {words.foot ?? words.headline}, {words.rest}
      </p>
      <Unwatched />
      <nav class="foot-pages" aria-label="Pages">
        <Pages />
        <LightSwitch />
      </nav>
    </footer>
  );
};

/** What nobody is woken for stays counted while something else is loud. */
const Unwatched = () => {
  const words = useUnwatchedWords(true);
  return words === '' ? null : <p class="foot-unwatched">{words}</p>;
};

/** The other pages, as words. */
export const Pages = () => (
  <>
    <a href={makeRoute({ page: 'alarms' })}>Alarms</a>
    <a href={makeRoute({ page: 'day' })}>Day</a>
    <a href={makeRoute({ page: 'sources' })}>Boards</a>
    <a href={makeRoute({ page: 'places' })}>Tanks</a>
    <a href={makeRoute({ page: 'watch' })}>Watch</a>
    <a href={makeRoute({ page: 'reading' })}>Key</a>
  </>
);
