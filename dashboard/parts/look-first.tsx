import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Picture } from '../../rules/wire/picture.js';
import { countWords, workPhrase } from '../../rules/words/channel.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital, stageName } from '../../rules/words/name.js';
import { markOf, toneOf } from '../chart/mark.js';
import { isAnswered, isLoud, isWatched } from '../state/live.js';
import { type Room, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { placeOf } from '../state/strip.js';
import { aliveWords } from './alive-words.js';
import { MarkPicture } from './mark.js';
import { textWidth } from './text-width.js';

/** The left third of the wall: the one thing to look at first, or that there is nothing. */
export const LookFirst = () => {
  const room = useRoom();
  const alive = aliveWords(room.alive.value, room.nowMs.value, room.reader.value);
  const [first, ...others] = room.alarms.value;
  if (room.picture.value === undefined || alive.loud) return <NotAlive {...alive} />;
  if (first === undefined) return <Calm room={room} />;
  return <First room={room} alarm={first} others={others} />;
};

/** Frozen or lost is told where the worst tank would be, because nothing else here can be believed. */
const NotAlive = ({
  loud,
  headline,
  rest,
}: {
  readonly loud: boolean;
  readonly headline: string;
  readonly rest: string;
}) => (
  <section class={loud ? 'first first-loud' : 'first'} role={loud ? 'alert' : 'status'}>
    <h1 class="first-not-alive">{headline}</h1>
    <p class="first-cause">{rest}</p>
    {loud ? <p class="first-quiet">What stands here is from before. Go and look at the tanks.</p> : null}
  </section>
);

const nameOf = (room: Room, id: string): string =>
  room.picture.value?.places.find((place) => place.id === id)?.name ?? id;

const First = ({ room, alarm, others }: { room: Room; alarm: AlarmPicture; others: readonly AlarmPicture[] }) => {
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const id = placeOf(alarm.subject);
  const place = room.picture.value?.places.find((one) => one.id === id);
  const channel = room.picture.value?.channels.find((one) => one.id === alarm.finding.channelId);
  const mark =
    channel === undefined ? (isAnswered(alarm) ? 'diamond-answered' : 'diamond') : markOf(channel, alarm, false);
  const finding = channel?.value === undefined ? alarm.finding : { ...alarm.finding, value: channel.value };
  const words = findingSentence(finding, { ...reader, nowMs, place: nameOf(room, id) });
  return (
    <section class="first" aria-label="Look at first">
      <p class="first-label">Look at first</p>
      <h1 class="first-name">
        <MarkPicture mark={mark} tone={toneOf(mark, alarm)} />
        <a href={makeRoute({ page: 'alarm', id: alarm.id })}>{nameOf(room, id)}</a>
        {place?.stage === undefined ? null : <small>{stageName(place.stage, reader)}</small>}
      </h1>
      <p class="first-headline">{capital(words.headline)}</p>
      <p class="first-cause">{words.cause}</p>
      <Figure alarm={alarm} left={words.left} nowMs={nowMs} />
      <p class="first-to">
        {words.about === undefined ? words.since : words.to}
        {words.about === undefined ? null : <span class="first-about">{words.about}</span>}
        {words.between === undefined ? null : <span class="first-between">{words.between}</span>}
      </p>
      <Answer alarm={alarm} nowMs={nowMs} />
      <More room={room} others={others} />
    </section>
  );
};

/** The largest figure in the room: time left, or without a time of harm how long it has lasted. */
const Figure = ({ alarm, left, nowMs }: { alarm: AlarmPicture; left: string | undefined; nowMs: number }) => {
  const text = left ?? durationWords(nowMs - alarm.finding.sinceMs);
  const room = left === undefined ? FIGURE_ROOM_PX - 140 : FIGURE_ROOM_PX;
  const size = Math.min(FIGURE_PX, room / textWidth(text, 1));
  return (
    <p
      class={isLoud(alarm) ? 'first-left' : 'first-left first-left-calm'}
      style={{ fontSize: `calc(${size.toFixed(0)} * var(--px))` }}
    >
      {left === undefined ? <small>for </small> : null}
      {text}
    </p>
  );
};
const FIGURE_PX = 168;
const FIGURE_ROOM_PX = 560;

const Answer = ({ alarm, nowMs }: { alarm: AlarmPicture; nowMs: number }) => (
  <p class="first-answer">
    {isAnswered(alarm)
      ? `${alarm.acknowledgedBy ?? 'Somebody'} is going, since ${durationWords(nowMs - (alarm.acknowledgedMs ?? nowMs))}`
      : `Nobody has answered for ${durationWords(nowMs - alarm.activatedMs)}`}
  </p>
);

const More = ({ room, others }: { room: Room; others: readonly AlarmPicture[] }) => {
  if (others.length === 0) return null;
  const names = [...new Set(others.map(({ subject }) => nameOf(room, placeOf(subject))))];
  const shown = names.slice(0, 2).join(', ');
  return (
    <p class="first-more">
      <a href={makeRoute({ page: 'alarms' })}>
        And {others.length} more: {shown}
        {names.length > 2 ? ' …' : ''}
      </a>
    </p>
  );
};

/** Nothing is wrong: says so, what is due next, what is not watched, and how the drawing is read. */
const Calm = ({ room }: { room: Room }) => {
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const picture = room.picture.value;
  if (picture === undefined) return null;
  const tanks = picture.places.filter(({ kind }) => kind === 'tank');
  const unwatched = picture.channels.filter((channel) => !isWatched(channel)).length;
  const next = tanks
    .filter(({ work }) => work !== undefined)
    .toSorted((a, b) => (a.work?.untilMs ?? 0) - (b.work?.untilMs ?? 0))[0];
  const advice = room.strips.value.some(({ cells }) =>
    cells.some(({ wanted, place }) => wanted && place.work === undefined),
  );
  return (
    <section class="first first-calm" aria-label="The room">
      <p class="first-label">{picture.site.name}</p>
      <h1 class="first-well">
        {tanks.length === 0 ? 'No tank is named yet' : advice ? 'Nobody is needed now' : 'All is well'}
      </h1>
      <p class="first-cause">
        {tanks.length === 0
          ? 'Point a board here, then name what it sends.'
          : advice
            ? 'Some water is off its target. No limit is near.'
            : watchedWords(picture)}
      </p>
      {next?.work === undefined ? null : (
        <p class="first-next">
          <span>Next</span> {next.name} {workPhrase(next.work, nowMs, reader).short} until{' '}
          {clockWords(next.work.untilMs, reader)}
        </p>
      )}
      {unwatched === 0 ? null : (
        <p class="first-more">
          Not watched: {unwatched === 1 ? 'one channel' : `${countWords(unwatched, reader)} channels`}
        </p>
      )}
      <Reading />
    </section>
  );
};

/** Every tank with at least one watched channel, of all tanks. */
const watchedWords = ({ places, channels }: Picture): string => {
  const tanks = places.filter(({ kind }) => kind === 'tank');
  const watched = new Set(channels.filter(isWatched).map(({ placeId }) => placeId));
  const count = tanks.filter(({ id }) => watched.has(id)).length;
  return count === tanks.length ? `${count} tanks watched` : `${count} of ${tanks.length} tanks watched`;
};

/** How the drawing is read, in one small drawing: for who sees the wall for the first time. */
const Reading = () => (
  <figure class="reading">
    <svg viewBox="0 0 540 176" aria-hidden="true">
      <path class="reading-limit" d="M2 24H420M2 152H420" />
      <path class="reading-water" d="M0 56H420V120H0Z" />
      <path class="reading-surface" d="M0 56H420M0 120H420" />
      <path class="reading-trail" d="M8 84C30 70 44 98 66 88S84 76 92 78" />
      <circle class="reading-float" cx="92" cy="78" r="12" />
      <path class="reading-trail reading-ink" d="M140 92C170 96 190 110 226 132" />
      <circle class="reading-ring" cx="226" cy="132" r="13" />
      <path class="reading-trail reading-loud" d="M276 84C300 78 330 50 358 30" />
      <path class="reading-diamond" d="M358 8L376 26L358 44L340 26Z" />
      <text x="436" y="34">
        limit
      </text>
      <text x="436" y="98">
        target
      </text>
    </svg>
    <figcaption>
      In the water: as wanted. <b>Ring</b>: off target. <b class="said-alarm">Diamond</b>: needs you.
    </figcaption>
  </figure>
);
