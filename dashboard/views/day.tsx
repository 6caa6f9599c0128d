import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import type { LogLine } from '../../rules/wire/log.js';
import { dayStartMs, durationWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { PlaceField } from '../parts/entry-fields.js';
import { EntryLine } from '../parts/entry-line.js';
import { LoneWork } from '../parts/lone-work.js';
import { LifeLine, Page } from '../parts/page.js';
import { WaitingList } from '../parts/waiting-list.js';
import { WorkStrip } from '../parts/work-strip.js';
import { WriteButtons } from '../parts/write-buttons.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute, type Route } from '../state/route.js';

const DAY_MS = 86_400_000;

const WAYS: readonly (readonly [Route, string, string])[] = [
  [{ page: 'round' }, 'Round', 'what is overdue, all seen except …'],
  [{ page: 'batches' }, 'Batches', 'animals from egg to sale'],
  [{ page: 'runs' }, 'Spawning runs', 'plan, live page, run sheet'],
  [{ page: 'bench' }, 'Bench', 'feed volumes, counts, salt, heat'],
  [{ page: 'papers' }, 'For an inspector', 'origin, permits, movements, deaths'],
];

/** The day: what is under way, what is due, and what was written. */
export const Day = () => {
  const room = useRoom();
  const places = room.picture.value?.places ?? [];
  const busy = places.flatMap((place) => (place.work === undefined ? [] : [{ place, work: place.work }]));
  return (
    <Page here="day">
      <h1 class="for-voice">The day</h1>
      <WaitingList />
      <WriteHere />
      <LoneWork />
      {busy.length === 0 ? null : (
        <>
          <h2 class="page-part">Under way</h2>
          {busy.map(({ place, work }) => (
            <div key={work.id}>
              <p class="busy-place">
                <a href={makeRoute({ page: 'tank', id: place.id })}>{place.name}</a>
              </p>
              <WorkStrip place={place} work={work} />
            </div>
          ))}
        </>
      )}
      <Due />
      <nav class="ways" aria-label="Pages of the day">
        {WAYS.map(([to, word, about]) => (
          <a key={word} href={makeRoute(to)}>
            <b>{word}</b> <span>{about}</span>
          </a>
        ))}
      </nav>
      <Log />
      <LifeLine />
    </Page>
  );
};

/** First the tank, then what was done in it. */
const WriteHere = () => {
  const place = useSignal('');
  return (
    <section class="write-here">
      <PlaceField label="Write about" value={place.value} onChoose={(value) => (place.value = value)} />
      <WriteButtons key={place.value} {...(place.value === '' ? {} : { place: place.value })} />
    </section>
  );
};

const Due = () => {
  const room = useRoom();
  const api = useApi();
  const reader = useLogReader();
  const { answer } = useAsked(() => api.round(), `${Math.floor(room.nowMs.value / 60_000)}`);
  if (answer.value.kind !== 'here' || answer.value.value.overdue.length === 0) return null;
  const { task } = entryNames(reader);
  return (
    <>
      <h2 class="page-part">Overdue</h2>
      <ul class="due">
        {answer.value.value.overdue.slice(0, 8).map((one) => (
          <li key={`${one.placeId} ${one.task}`}>
            <b>{reader.placeName(one.placeId)}</b> {task[one.task]}{' '}
            <span>{durationWords(room.nowMs.value - one.dueMs, reader)} over</span>
          </li>
        ))}
      </ul>
    </>
  );
};

/** Two days of entries, the newest first; more when it is asked for. The gateway says which day it is. */
const Log = () => (useRoom().picture.value === undefined ? null : <LogOfDays />);

const LogOfDays = () => {
  const room = useRoom();
  const api = useApi();
  const days = useSignal(2);
  const sequence = room.picture.value?.sequence ?? 0;
  const from = dayStartMs(Math.round(room.nowMs.value) - days.value * DAY_MS, room.reader.value.zone);
  const { answer, again } = useAsked(() => api.log({ from: String(from) }), `${sequence} ${from}`);
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const lines = answer.value.kind === 'here' ? answer.value.value.toReversed() : [];
  return (
    <>
      <h2 class="page-part">Written</h2>
      <Entries lines={lines} onChange={again}>
        <button type="button" class="pill pill-quiet" onClick={() => (days.value += 7)}>
          A week more
        </button>
      </Entries>
    </>
  );
};

type EntriesProps = {
  readonly lines: readonly LogLine[];
  readonly onChange?: () => void;
  readonly children?: ComponentChildren;
};

export const Entries = ({ lines, onChange, children }: EntriesProps) => (
  <>
    {lines.length === 0 ? <p class="page-note">Nothing was written in this time.</p> : null}
    <ol class="entries">
      {lines.map((line) => (
        <EntryLine key={line.entry.id} line={line} {...(onChange === undefined ? {} : { onChange })} />
      ))}
    </ol>
    {children}
  </>
);
