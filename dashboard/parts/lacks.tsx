import type { Lack } from '../../rules/alerts/lack.js';
import { lackWords } from '../../rules/words/lack.js';
import { useRoom } from '../state/room.js';

/** What would leave the room without an answer tonight: told loudly. */
const LOUD: readonly Lack['kind'][] = ['no-people', 'nobody-on-call', 'check-in-fails', 'way-fails'];

/** Everything that keeps people from being woken, the worst first; nothing when there is nothing. */
export const Lacks = ({ lacks }: { readonly lacks: readonly Lack[] }) => {
  const room = useRoom();
  if (lacks.length === 0) return <p class="page-note">Everybody on the list can be reached, as far as was tried.</p>;
  return (
    <>
      <h2 class="page-part">Not watched</h2>
      <ul class="plain-list lacks">
        {lacks.map((lack) => {
          const words = lackWords(lack, room.nowMs.value, room.reader.value);
          return (
            <li key={words} class={LOUD.includes(lack.kind) ? 'said-alarm' : undefined}>
              {words}
            </li>
          );
        })}
      </ul>
    </>
  );
};
