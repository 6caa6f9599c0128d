import { useSignal } from '@preact/signals';
import { durationWords } from '../../rules/words/clock.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';
import { PlaceField } from './entry-fields.js';
import { Said } from './said.js';

const MINUTE_MS = 60_000;
const LENGTHS = [30, 60, 120] as const;

/** Somebody goes in alone and says for how long; when the time is over and nothing was said, others are called. */
export const LoneWork = () => {
  const reader = useRoom().reader.value;
  const place = useSignal('');
  const { state, write } = useWriter();
  if (!mayAnswer(session.value)) return null;
  return (
    <details class="entry-more">
      <summary>I am working alone</summary>
      <p class="cautions">
        Tell somebody too. When the time is over and you have not said “Done”, the people on watch are called to look
        for you. It is an aid: it does not see a fall. Animals can be replaced.
      </p>
      <PlaceField label="Where" value={place.value} onChoose={(value) => (place.value = value)} />
      <div class="pill-row">
        {LENGTHS.map((minutes) => (
          <button
            key={minutes}
            type="button"
            class="night-button"
            disabled={place.value === ''}
            onClick={() => void write({ kind: 'work', placeId: place.value, fields: { work: 'alone', minutes } })}
          >
            For {durationWords(minutes * MINUTE_MS, reader)}
          </button>
        ))}
      </div>
      <Said state={state.value} />
    </details>
  );
};
