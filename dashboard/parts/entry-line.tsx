import type { Entry } from '../../rules/log/entry.js';
import { authorOf } from '../../rules/log/entry.js';
import { showsDead } from '../../rules/review/window.js';
import type { LogLine } from '../../rules/wire/log.js';
import { momentWords } from '../../rules/words/clock.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';
import { TakeBack } from './take-back.js';

const LATE_MS = 30 * 60_000;

/** One entry of the log: when, where, what, who; what no longer counts is struck through and stays readable. */
export const EntryLine = ({ line, onChange }: { readonly line: LogLine; readonly onChange?: () => void }) => {
  const room = useRoom();
  const reader = useLogReader();
  const { entry, recordedMs, replacedBy, struck } = line;
  const counts = replacedBy === undefined && entry.kind !== 'struck';
  const isLate = recordedMs - entry.atMs > LATE_MS;
  return (
    <li class={counts ? 'entry' : 'entry entry-over'}>
      <p class="entry-head">
        <time>{momentWords(entry.atMs, room.nowMs.value, reader)}</time>
        {entry.placeId === undefined ? null : (
          <a href={makeRoute({ page: 'tank', id: entry.placeId })}>{reader.placeName(entry.placeId)}</a>
        )}
        <b>{capital(entryNames(reader).kind[entry.kind])}</b>
      </p>
      <p class="entry-words">{entryWords(entry, reader)}</p>
      <Photos entry={entry} />
      <p class="entry-foot">
        {authorOf(entry)}
        {isLate ? `, written ${momentWords(recordedMs, room.nowMs.value, reader)}` : null}
        {entry.corrects === undefined || entry.kind === 'struck' ? null : ', a correction'}
        {counts ? null : struck === true ? ', taken back' : replacedBy === undefined ? null : ', corrected since'}
        {counts && mayAnswer(session.value) && onChange !== undefined ? (
          <Mend entry={entry} onChange={onChange} />
        ) : null}
      </p>
      {counts && showsDead(entry) ? <LookBack entry={entry} /> : null}
    </li>
  );
};

/** From deaths to what came before them: the first hour, then the review, with its tank and time known. */
const LookBack = ({ entry }: { entry: Entry }) => (
  <a class="pill look-back" href={makeRoute({ page: 'reviews', entry: entry.id, ...placeIn(entry) })}>
    What happened before?
  </a>
);
const placeIn = ({ placeId }: Entry) => (placeId === undefined ? {} : { tank: placeId });

const Mend = ({ entry, onChange }: { entry: Entry; onChange: () => void }) => (
  <>
    {MENDED_ELSEWHERE.has(entry.kind) ? null : (
      <a
        class="edit-word"
        href={makeRoute({ page: 'write', kind: entry.kind, place: entry.placeId ?? '', corrects: entry.id })}
      >
        Correct
      </a>
    )}
    <TakeBack entryId={entry.id} onDone={onChange} />
  </>
);

/** Sheets and rounds have pages of their own: they are taken back and written anew. */
const MENDED_ELSEWHERE: ReadonlySet<Entry['kind']> = new Set([
  'drain-down',
  'round',
  'split',
  'work',
  'work-end',
  'work-longer',
]);

const Photos = ({ entry }: { entry: Entry }) =>
  entry.photos === undefined ? null : (
    <p class="entry-photos">
      {entry.photos.map((id, n) => (
        <a key={id} href={`/api/v1/photos/${id}`} target="_blank" rel="noreferrer">
          <img src={`/api/v1/photos/${id}`} alt={`Number ${n + 1} of this entry`} loading="lazy" />
        </a>
      ))}
    </p>
  );
