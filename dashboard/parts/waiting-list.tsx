import { momentWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { useOutbox } from '../state/live-outbox.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';

/** What was written here and is not with the gateway yet, and what it refused: nothing is lost silently. */
export const WaitingList = () => {
  const outbox = useOutbox();
  const room = useRoom();
  const reader = useLogReader();
  const waiting = outbox.waiting.value;
  if (waiting.length === 0) return null;
  const refused = waiting.filter((one) => one.refused !== undefined);
  const count = waiting.length - refused.length;
  return (
    <section class="waiting-list" aria-live="polite">
      {count === 0 ? null : (
        <p>
          <b>{count}</b> {count === 1 ? 'entry waits' : 'entries wait'} on this device for the connection.{' '}
          <button type="button" class="plain edit-word" onClick={() => void outbox.flush()}>
            Try now
          </button>
        </p>
      )}
      <ol>
        {refused.map(({ number, entry, refused: problem }) => (
          <li key={number} class="waiting-refused">
            <p>
              {capital(entryNames(reader).kind[entry.kind])}
              {entry.placeId === undefined ? null : ` of ${reader.placeName(entry.placeId)}`},{' '}
              {momentWords(entry.atMs, room.nowMs.value, reader)}, could not be kept: {problem?.detail}
            </p>
            <button type="button" class="plain edit-word" onClick={() => void outbox.drop(number)}>
              Leave it out
            </button>
          </li>
        ))}
      </ol>
    </section>
  );
};
