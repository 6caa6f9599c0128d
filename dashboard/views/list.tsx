import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { workPhrase } from '../../rules/words/channel.js';
import { clockWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital, stageName } from '../../rules/words/name.js';
import { MarkPicture } from '../parts/mark.js';
import { LifeLine, Page } from '../parts/page.js';
import { Pulse } from '../parts/pulse.js';
import { nameOfStrip } from '../parts/strip-name.js';
import { TankRow } from '../parts/tank-row.js';
import { isAnswered, isLoud } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { placeOf } from '../state/strip.js';

/** The room on a phone: what needs somebody first, then every tank in its place, in one column. */
export const List = () => {
  const room = useRoom();
  const picture = room.picture.value;
  const alarms = room.alarms.value;
  return (
    <Page here="room">
      <div class="list-top">
        <p>{picture?.site.name ?? ''}</p>
        <time>{clockWords(room.nowMs.value, room.reader.value)}</time>
      </div>
      <div class="list-life">
        <Pulse />
        <LifeLine />
      </div>
      <h1 class="for-voice">The room</h1>
      {alarms.length === 0 && picture !== undefined ? <AllWell /> : null}
      <ol class="list-alarms">
        {alarms.map((alarm) => (
          <AlarmLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
      {room.strips.value.map((strip) => (
        <section key={strip.id} class="list-line">
          <h2>{nameOfStrip(strip)}</h2>
          <ol>
            {strip.cells.map((cell) => (
              <TankRow key={cell.place.id} cell={cell} />
            ))}
          </ol>
        </section>
      ))}
    </Page>
  );
};

const AllWell = () => {
  const room = useRoom();
  const cells = room.strips.value.flatMap((strip) => strip.cells);
  const work = cells.flatMap(({ place }) =>
    place.work === undefined ? [] : [{ name: place.name, work: place.work }],
  )[0];
  return (
    <div class="list-well">
      <p>{cells.length === 0 ? 'No tank is named yet' : 'All is well'}</p>
      {work === undefined ? null : (
        <p class="list-next">
          {work.name} {workPhrase(work.work, room.nowMs.value, room.reader.value).long}
        </p>
      )}
    </div>
  );
};

/** One open alarm: shape, name, time left; then what is measured and why. */
export const AlarmLine = ({ alarm }: { readonly alarm: AlarmPicture }) => {
  const room = useRoom();
  const id = placeOf(alarm.subject);
  const place = room.picture.value?.places.find((one) => one.id === id);
  const name = place?.name ?? id;
  const words = findingSentence(alarm.finding, { ...room.reader.value, nowMs: room.nowMs.value, place: name });
  const mark = !isLoud(alarm) ? 'ring' : isAnswered(alarm) ? 'diamond-answered' : 'diamond';
  return (
    <li class={isLoud(alarm) ? 'alarm-line alarm-line-loud' : 'alarm-line'}>
      <a href={makeRoute({ page: 'alarm', id: alarm.id })}>
        <span class="alarm-line-name">
          <MarkPicture mark={mark} tone={isLoud(alarm) ? 'alarm' : 'ink'} />
          <b>{name}</b>
          {place?.stage === undefined ? null : <small>{stageName(place.stage, room.reader.value)}</small>}
          {words.left === undefined ? null : <strong>{words.left}</strong>}
        </span>
        <span>{capital(words.headline)}</span>
        <span class="alarm-line-cause">{capital(words.cause)}</span>
        {isAnswered(alarm) ? <span class="alarm-line-cause">{alarm.acknowledgedBy ?? 'Somebody'} is going</span> : null}
      </a>
    </li>
  );
};
