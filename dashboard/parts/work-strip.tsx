import { useState } from 'preact/hooks';
import type { PlacePicture, WorkPicture } from '../../rules/wire/picture.js';
import { workPhrase } from '../../rules/words/channel.js';
import { durationWords } from '../../rules/words/clock.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';
import { Said } from './said.js';

const MINUTE_MS = 60_000;
const LONGER_MIN = 15;

type StripProps = {
  readonly place: PlacePicture;
  readonly work: WorkPicture;
  /** The page is the sheet itself. */
  readonly onSheet?: boolean;
};

/** Declared work of a place: how long it still stands, and the two things to do about it. */
export const WorkStrip = ({ place, work, onSheet = false }: StripProps) => {
  const room = useRoom();
  const { state, write } = useWriter();
  const nowMs = room.nowMs.value;
  const isOver = nowMs > work.untilMs;
  const { long } = workPhrase(work, nowMs, room.reader.value);
  const end = (): void => {
    void write({ kind: 'work-end', placeId: place.id, fields: { workId: work.id } });
  };
  const longer = (): void => {
    const untilMs = Math.max(work.untilMs, nowMs) + LONGER_MIN * MINUTE_MS;
    void write({ kind: 'work-longer', placeId: place.id, fields: { workId: work.id, untilMs: Math.round(untilMs) } });
  };
  return (
    <div class={isOver ? 'work-strip work-strip-over' : 'work-strip'}>
      <p>
        {capital(long)}, declared by {work.by}
        {isOver ? '. Its rules are back: say that it is done, or how much longer it takes.' : null}
      </p>
      {mayAnswer(session.value) ? (
        <div class="pill-row">
          {work.kind === 'drain-down' && !onSheet ? (
            <a class="pill pill-first" href={makeRoute({ page: 'sheet', id: place.id })}>
              Fill in the sheet
            </a>
          ) : null}
          {work.kind === 'spawning-run' ? (
            <a class="pill pill-first" href={makeRoute({ page: 'run', id: work.id })}>
              Open the run
            </a>
          ) : (
            <button type="button" class="pill" onClick={end}>
              Done
            </button>
          )}
          <button type="button" class="pill" onClick={longer}>
            {LONGER_MIN} min longer
          </button>
        </div>
      ) : null}
      <Said state={state.value} />
    </div>
  );
};

/** Work that one tap declares, and for how long. The usual times; a person makes it longer where it takes longer. */
const WORKS = [
  ['drain-down', 75],
  ['water-change', 45],
  ['feeding-flow-off', 60],
  ['filling', 30],
  ['probe-service', 20],
  ['bed-cleaning', 60],
] as const;
const RARE = [
  ['disinfection', 24 * 60],
  ['intake-closed', 240],
  ['standby-test', 30],
  ['resting', 24 * 60],
] as const;

/** Declaring work with one tap: it begins now, ends by itself, and can be taken back. */
export const DeclareWork = ({ place }: { readonly place: PlacePicture }) => {
  const reader = useRoom().reader.value;
  const [isAll, setAll] = useState(false);
  const { state, write } = useWriter();
  if (!mayAnswer(session.value) || place.work !== undefined) return <Said state={state.value} />;
  const works = isAll ? [...WORKS, ...RARE] : WORKS;
  return (
    <section class="declare" aria-label="Declare work">
      <h2 class="page-part">Work begins now</h2>
      <div class="pill-row">
        {works.map(([work, minutes]) => (
          <button
            key={work}
            type="button"
            class="pill"
            onClick={() => void write({ kind: 'work', placeId: place.id, fields: { work, minutes } })}
          >
            {capital(namesFor(reader).work[work])} <small>{durationWords(minutes * MINUTE_MS, reader)}</small>
          </button>
        ))}
        {isAll ? null : (
          <button type="button" class="pill pill-quiet" onClick={() => setAll(true)}>
            More
          </button>
        )}
      </div>
      <Said state={state.value} />
    </section>
  );
};
