import { useSignal } from '@preact/signals';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { AlarmLine } from '../views/list.js';
import { Choice, Field } from './field.js';
import { Page } from './page.js';
import { Pulse } from './pulse.js';
import { Reading } from './reading.js';
import { SAMPLE_PAGES, SAMPLE_ROOMS } from './sample-name.js';
import { TankRow } from './tank-row.js';

/** How the drawing is read; and every part in every state, by night and by day. For whoever works on the pages: no page leads here. */
export const PartsBook = () => (
  <Page here="parts">
    <Reading />
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
