import type { PlacePicture } from '../../rules/wire/picture.js';
import { bedWords } from '../../rules/words/bed.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';

const AGAIN_MS = 60_000;

/** The bed of a tank: how deep the oxygen goes, once somebody has looked, how far off that was, and the way to look. */
export const BedPart = ({ place }: { readonly place: PlacePicture }) => {
  const room = useRoom();
  const api = useApi();
  const nowMs = room.nowMs.value;
  const { answer } = useAsked(() => api.bed(place.id), `${place.id} ${Math.floor(nowMs / AGAIN_MS)}`);
  if (answer.value.kind === 'waiting') return null;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const { depth, facts, notes } = bedWords(answer.value.value, nowMs, room.reader.value);
  return (
    <section class="channel bed-part">
      <header class="channel-words">
        <h2>Oxygen in the bed{depth === undefined ? null : <small> estimated</small>}</h2>
        {depth === undefined ? null : <p class="channel-value">{depth}</p>}
        {facts.length === 0 ? null : <p class="channel-state">{facts.join(', ')}</p>}
      </header>
      {notes.map((note) => (
        <p key={note} class="page-note">
          {note}
        </p>
      ))}
      {mayAnswer(session.value) ? (
        <a class="pill" href={makeRoute({ page: 'write', kind: 'bed-look', place: place.id })}>
          Look at the bed
        </a>
      ) : null}
    </section>
  );
};
