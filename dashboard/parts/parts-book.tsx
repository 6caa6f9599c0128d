import { useSignal } from '@preact/signals';
import { MARKS, type Mark, type Tone } from '../chart/mark.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { AlarmLine } from '../views/list.js';
import { Choice, Field } from './field.js';
import { MarkPicture } from './mark.js';
import { Page } from './page.js';
import { Pulse } from './pulse.js';
import { SAMPLE_PAGES, SAMPLE_ROOMS } from './sample-name.js';
import { ScaleFigure } from './scale-figure.js';
import { TankRow } from './tank-row.js';

const MARK_WORDS: { readonly [mark in Mark]: readonly [tone: Tone, name: string, meaning: string] } = {
  float: ['calm', 'In target', 'The water is as wanted. Nothing to do.'],
  ring: ['ink', 'Outside target', 'Advice. It does not sound, and wakes nobody.'],
  diamond: ['alarm', 'Alarm', 'Outside a limit, or a ceiling is coming. Somebody must go.'],
  'diamond-answered': ['alarm', 'Alarm, answered', 'Somebody is going.'],
  silent: ['ink', 'Silent', 'No reading arrives. Nobody knows how the water is.'],
  implausible: ['ink', 'Not plausible', 'The probe gives what water cannot be.'],
  lifted: ['muted', 'Out of water', 'Declared work; the name of it and the time left stand beside it.'],
  unwatched: ['muted', 'Not watched', 'No limit is set, or it is muted. It will not sound.'],
};

/** How the drawing is read; and every part in every state, by night and by day. */
export const PartsBook = () => (
  <Page here="parts">
    <h1 class="page-title">How to read this</h1>
    <p class="page-note">
      Each channel of each tank is a float on one scale: that of its own wants. The middle of the band is the middle of
      its target, whatever the quantity. A room that is well lies in the water.
    </p>
    <ScaleFigure />
    <dl class="mark-list">
      {MARKS.map((mark) => {
        const [tone, name, meaning] = MARK_WORDS[mark];
        return (
          <div key={mark}>
            <dt>
              <MarkPicture mark={mark} tone={tone} /> {name}
            </dt>
            <dd>{meaning}</dd>
          </div>
        );
      })}
    </dl>
    <h2 class="page-part">Parts, by night and by day</h2>
    <div class="both">
      <Parts light="night" />
      <Parts light="day" />
    </div>
    <h2 class="page-part">Rooms of an invented hatchery</h2>
    <ul class="sample-rooms">
      {[...SAMPLE_ROOMS, ...SAMPLE_PAGES].map((room) => (
        <li key={room}>
          <a href={makeRoute({ page: 'parts', room })}>{room.replace('.', ', ')}</a>
        </li>
      ))}
    </ul>
  </Page>
);

/** The same parts under one palette. */
const Parts = ({ light }: { readonly light: 'night' | 'day' }) => {
  const room = useRoom();
  const text = useSignal('L3');
  const wrong = useSignal('2x');
  const choice = useSignal('larva');
  const rows = ['b1', 'b2', 'b3', 'b5', 'l1', 'l4', 'l5'];
  return (
    <section class="parts-light" data-light={light} aria-label={light}>
      <Pulse />
      <ol class="list-alarms">
        {room.alarms.value.slice(0, 3).map((alarm) => (
          <AlarmLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
      <ol>
        {rows.map((id) => (
          <TankRow key={id} id={id} name={id.toUpperCase()} />
        ))}
      </ol>
      <div class="parts-form">
        <Field label="Name" hint="As it stands on the tank." value={text} />
        <Field label="Volume" value={wrong} type="number" unit="L" fault="“2x” is not a number." />
        <Choice
          label="Holds"
          value={choice}
          choices={[
            ['larva', 'larvae'],
            ['empty', 'empty'],
          ]}
        />
        <button type="button" class="night-button night-button-first">
          I am going
        </button>
        <button type="button" class="night-button">
          Pass on
        </button>
        <button type="button" class="night-button" disabled={true}>
          Telling the others …
        </button>
      </div>
      <p class="not-live">
        <b>Not live: the gateway does not answer</b>, since 02:17, 3 min
      </p>
    </section>
  );
};
