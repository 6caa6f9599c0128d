import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Quantity } from '../../rules/quantity.js';
import { clockWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital, namesFor, stageName } from '../../rules/words/name.js';
import { useCalmWords } from '../parts/calm-words.js';
import { MarkPicture } from '../parts/mark.js';
import { LifeLine, Page } from '../parts/page.js';
import { Pulse } from '../parts/pulse.js';
import { TankRow } from '../parts/tank-row.js';
import { useUnwatchedWords } from '../parts/unwatched-words.js';
import { WatchWarning } from '../parts/watch-warning.js';
import { isAnswered, isLoud } from '../state/live.js';
import { placeNamed, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { session } from '../state/session.js';
import { useSteady } from '../state/steady.js';
import { placeOf } from '../state/strip.js';
import { shapeOf } from '../state/strip-shape.js';

/** The room on a phone: what needs somebody first, then every tank in its place, in one column. */
export const List = () => {
  const room = useRoom();
  const strips = useSteady(() => room.strips.value.map((strip) => shapeOf(strip, room.reader.value)), [room]);
  const known = useSteady(() => room.picture.value !== undefined, [room]);
  const alarms = room.alarms.value;
  return (
    <Page here="room">
      <Top />
      <h1 class="for-voice">The room</h1>
      {alarms.length === 0 && known ? <NoAlarm /> : null}
      <ol class="list-alarms">
        {alarms.map((alarm) => (
          <AlarmLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
      {alarms.length === 0 ? null : <Unwatched />}
      {strips.map((strip, index) => (
        <section key={strip.id} class="list-line">
          <h2>{strip.name}</h2>
          {index === 0 ? <Columns columns={strip.columns} /> : null}
          <ol>
            {strip.places.map(({ id, name }) => (
              <TankRow key={id} id={id} name={name} />
            ))}
          </ol>
        </section>
      ))}
    </Page>
  );
};

/** What nobody is woken for stays counted while something else is loud. */
const Unwatched = () => {
  const words = useUnwatchedWords(false);
  return words === '' ? null : <p class="list-unwatched">{words}</p>;
};

/** What each float of a row is, over the first of them. */
const Columns = ({ columns }: { columns: readonly Quantity[] }) => {
  const { short } = namesFor(useRoom().reader.value);
  return (
    <ul class="list-columns" aria-hidden="true">
      {columns.map((quantity) => (
        <li key={quantity}>{short[quantity]}</li>
      ))}
    </ul>
  );
};

const Top = () => {
  const room = useRoom();
  const name = useSteady(() => room.picture.value?.site.name ?? '', [room]);
  const clock = useSteady(() => clockWords(room.nowMs.value, room.reader.value), [room]);
  return (
    <>
      <div class="list-top">
        <p>{name}</p>
        <time>{clock}</time>
      </div>
      <div class="list-life">
        <Pulse />
        <LifeLine />
      </div>
    </>
  );
};

const NoAlarm = () => {
  const { headline, lines, next } = useCalmWords();
  return (
    <div class="list-well">
      <p>{headline}</p>
      {lines.map((line) => (
        <p key={line} class="list-next">
          {line}
        </p>
      ))}
      {session.value === undefined ? null : <WatchWarning />}
      {next === undefined ? null : <p class="list-next">Next: {next}</p>}
    </div>
  );
};

/** One open alarm: shape, name, time left; then what is measured and why. */
export const AlarmLine = ({ alarm }: { readonly alarm: AlarmPicture }) => {
  const room = useRoom();
  const { name, stage, words } = useSteady(() => {
    const id = placeOf(alarm.subject);
    const reader = room.reader.value;
    const nameOf = (other: string): string => placeNamed(room, other)?.name ?? other;
    const place = placeNamed(room, id);
    return {
      name: nameOf(id),
      stage: place?.stage === undefined ? undefined : stageName(place.stage, reader),
      words: findingSentence(alarm.finding, { ...reader, nowMs: room.nowMs.value, place: nameOf(id), nameOf }),
    };
  }, [room, alarm]);
  const mark = !isLoud(alarm) ? 'ring' : isAnswered(alarm) ? 'diamond-answered' : 'diamond';
  return (
    <li class={isLoud(alarm) ? 'alarm-line alarm-line-loud' : 'alarm-line'}>
      <a href={makeRoute({ page: 'alarm', id: alarm.id })}>
        <span class="alarm-line-name">
          <MarkPicture mark={mark} tone={isLoud(alarm) ? 'alarm' : 'ink'} />
          <b>{name}</b>
          {stage === undefined ? null : <small>{stage}</small>}
          {words.left === undefined ? null : <strong>{words.left}</strong>}
        </span>
        <span>{capital(words.headline)}</span>
        <span class="alarm-line-cause">{capital(words.briefly)}</span>
        {words.together === undefined ? null : <span class="alarm-line-cause">{words.together}</span>}
        {isAnswered(alarm) ? (
          <span class="alarm-line-cause">{capital(alarm.acknowledgedBy ?? 'somebody')} is going</span>
        ) : null}
      </a>
    </li>
  );
};
