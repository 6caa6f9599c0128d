import type { ComponentChildren } from 'preact';
import { durationWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { isLoud } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute, type Route } from '../state/route.js';
import { placeOf } from '../state/strip.js';
import { aliveWords } from './alive-words.js';
import { LightSwitch } from './light-switch.js';
import { MarkPicture } from './mark.js';

const PAGES: readonly (readonly [Route, string])[] = [
  [{ page: 'room' }, 'Room'],
  [{ page: 'alarms' }, 'Alarms'],
  [{ page: 'day' }, 'Day'],
  [{ page: 'sources' }, 'Boards'],
  [{ page: 'places' }, 'Tanks'],
  [{ page: 'watch' }, 'Watch'],
];

type PageProps = {
  readonly here: Route['page'];
  /** The place that the page is about: its own alarm is not told twice. */
  readonly about?: string;
  readonly children: ComponentChildren;
};

/** The frame of every page but the wall: the other pages as words on a line, what needs somebody, and whether it is live. */
export const Page = ({ here, about, children }: PageProps) => (
  <div class="page">
    <header class="page-head">
      <nav class="page-words" aria-label="Pages">
        {PAGES.map(([to, word]) => (
          <a key={word} href={makeRoute(to)} aria-current={to.page === here ? 'page' : undefined}>
            {word}
          </a>
        ))}
      </nav>
      {here === 'room' || here === 'alarms' || here === 'alarm' ? null : <WorstOne about={about} />}
      <NotLive />
    </header>
    <main class="page-body">{children}</main>
    <footer class="page-foot">
      <a href={makeRoute({ page: 'reading' })}>How to read this</a>
      <LightSwitch />
    </footer>
  </div>
);

/** The worst open alarm follows onto every page. */
const WorstOne = ({ about }: { about: string | undefined }) => {
  const room = useRoom();
  const first = room.alarms.value.find(isLoud);
  if (first === undefined) return null;
  const id = placeOf(first.subject);
  if (id === about) return null;
  const place = room.picture.value?.places.find((one) => one.id === id)?.name ?? id;
  const words = findingSentence(first.finding, { ...room.reader.value, nowMs: room.nowMs.value, place });
  return (
    <a class="worst-one" href={makeRoute({ page: 'alarm', id: first.id })}>
      <MarkPicture mark="diamond" tone="alarm" />
      <b>{place}</b> {words.headline}
      {words.left === undefined ? null : <span>{words.left}</span>}
    </a>
  );
};

/** Loud where the page must not be believed, absent where it may. */
const NotLive = () => {
  const room = useRoom();
  const words = aliveWords(room.alive.value, room.nowMs.value, room.reader.value);
  if (room.picture.value === undefined || !words.loud) return null;
  return (
    <p class="not-live" role="alert">
      <b>{words.headline}</b>, {words.rest}
    </p>
  );
};

/** A page's own life line: when the last reading came. */
export const LifeLine = () => {
  const room = useRoom();
  const words = aliveWords(room.alive.value, room.nowMs.value, room.reader.value);
  return words.loud ? null : (
    <p class="life-line">
      {words.headline}, {words.rest}
    </p>
  );
};

export const since = (fromMs: number, nowMs: number): string => durationWords(nowMs - fromMs);
