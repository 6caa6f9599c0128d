import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { durationWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital, stageName } from '../../rules/words/name.js';
import { type Mark, markOf, toneOf } from '../chart/mark.js';
import { isAnswered, isLoud } from '../state/live.js';
import { placeNamed, type Room, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { session } from '../state/session.js';
import { useSteady } from '../state/steady.js';
import { placeOf } from '../state/strip.js';
import { aliveWords } from './alive-words.js';
import { useCalmWords } from './calm-words.js';
import { MarkPicture } from './mark.js';
import { textWidth } from './text-width.js';
import { WatchWarning } from './watch-warning.js';

/** The left third of the wall: the one thing to look at first, or that there is nothing. */
export const LookFirst = () => {
  const room = useRoom();
  const alive = useSteady(
    () => ({
      ...aliveWords(room.alive.value, room.nowMs.value, room.reader.value),
      known: room.picture.value !== undefined,
    }),
    [room],
  );
  const [first, ...others] = room.alarms.value;
  if (!alive.known || alive.loud) return <NotAlive {...alive} />;
  return first === undefined ? <Calm /> : <First alarm={first} others={others} />;
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

const First = ({ alarm, others }: { alarm: AlarmPicture; others: readonly AlarmPicture[] }) => {
  const room = useRoom();
  const { name, stage, mark, words, answer, lasting } = useSteady(() => firstOf(room, alarm), [room, alarm]);
  return (
    <section class="first" aria-label="Look at first">
      <p class="first-label">Look at first</p>
      <h1 class="first-name">
        <MarkPicture mark={mark} tone={toneOf(mark, alarm)} />
        <a href={makeRoute({ page: 'alarm', id: alarm.id })}>{name}</a>
        {stage === undefined ? null : <small>{stage}</small>}
      </h1>
      <p class="first-headline">{capital(words.headline)}</p>
      <p class="first-cause first-clamped">{words.briefly}</p>
      <Figure alarm={alarm} left={words.left} lasting={lasting} />
      <p class="first-to">
        {words.about === undefined ? words.since : words.to}
        {words.about === undefined ? null : <span class="first-about">{words.about}</span>}
        {words.between === undefined ? null : <span class="first-between">{words.between}</span>}
      </p>
      <p class="first-answer">{answer}</p>
      <More others={others} />
    </section>
  );
};

/** Everything that is said of the first alarm; it is drawn again only when a word of it changes. */
const firstOf = (room: Room, alarm: AlarmPicture) => {
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const id = placeOf(alarm.subject);
  const place = placeNamed(room, id);
  const nameOf = (other: string): string => placeNamed(room, other)?.name ?? other;
  const channel = room.picture.value?.channels.find((one) => one.id === alarm.finding.channelId);
  const taken: Mark = isAnswered(alarm) ? 'diamond-answered' : 'diamond';
  const finding = channel?.value === undefined ? alarm.finding : { ...alarm.finding, value: channel.value };
  return {
    name: nameOf(id),
    stage: place?.stage === undefined ? undefined : stageName(place.stage, reader),
    mark: channel === undefined ? taken : markOf(channel, alarm, false),
    words: findingSentence(finding, { ...reader, nowMs, place: nameOf(id), nameOf }),
    lasting: durationWords(nowMs - alarm.finding.sinceMs, reader),
    answer: isAnswered(alarm)
      ? `${capital(alarm.acknowledgedBy ?? 'somebody')} is going`
      : `Unanswered for ${durationWords(nowMs - alarm.activatedMs, reader)}`,
  };
};

/** The largest figure in the room: time left, or without a time of harm how long it has lasted. */
const Figure = ({ alarm, left, lasting }: { alarm: AlarmPicture; left: string | undefined; lasting: string }) => {
  const text = left ?? lasting;
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

const More = ({ others }: { others: readonly AlarmPicture[] }) => {
  const room = useRoom();
  const names = useSteady(
    () => [...new Set(others.map(({ subject }) => placeNamed(room, placeOf(subject))?.name ?? subject))],
    [room, others],
  );
  if (others.length === 0) return null;
  return (
    <p class="first-more">
      <a href={makeRoute({ page: 'alarms' })}>
        And {others.length} more: {names.slice(0, 2).join(', ')}
        {names.length > 2 ? ' …' : ''}
      </a>
    </p>
  );
};

/** Nothing needs anybody: says so, what is due next, what is not watched, and how the drawing is read. */
const Calm = () => {
  const room = useRoom();
  const { headline, lines, next } = useCalmWords();
  const isLive = session.value !== undefined;
  const site = useSteady(() => room.picture.value?.site.name, [room]);
  return (
    <section class="first first-calm" aria-label="The room">
      <p class="first-label">{site}</p>
      <h1 class="first-well">{headline}</h1>
      {lines.map((line) => (
        <p key={line} class="first-cause">
          {line}
        </p>
      ))}
      {isLive ? <WatchWarning /> : null}
      {next === undefined ? null : (
        <p class="first-next">
          <span>Next</span> {next}
        </p>
      )}
      <Reading />
    </section>
  );
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
