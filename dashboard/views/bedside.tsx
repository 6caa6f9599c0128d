import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { clockWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { openSounder } from '../link/sounder.js';
import { aliveWords } from '../parts/alive-words.js';
import type { useFault } from '../parts/fault-answer.js';
import { isAnswered, isLoud } from '../state/live.js';
import { placeNamed, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { placeOf } from '../state/strip.js';

/** Beside the bed: dark, the clock, one sentence, and a sound for an alarm or a gateway that is lost. */
export const Bedside = () => {
  const room = useRoom();
  const ready = useSignal(false);
  const sounder = useSignal<ReturnType<typeof openSounder> | undefined>(undefined);
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const worst = room.alarms.value.find((alarm) => isLoud(alarm) && !isAnswered(alarm));
  const alive = aliveWords(room.alive.value, nowMs, reader);
  const isLost = room.alive.value.kind === 'lost';
  const why = worst !== undefined ? 'alarm' : isLost ? 'lost' : undefined;
  useEffect(() => {
    sounder.value?.sound(why);
  }, [why, ready.value]);
  useEffect(() => () => sounder.value?.close(), []);
  const start = (): void => {
    sounder.value = openSounder();
    ready.value = true;
  };
  return (
    <main class="bedside" data-light="night">
      <h1 class="for-voice">Bedside</h1>
      <time class="bedside-clock">{clockWords(nowMs, reader)}</time>
      {worst === undefined ? (
        <p class={alive.loud ? 'bedside-loud' : 'bedside-calm'} role={alive.loud ? 'alert' : 'status'}>
          {room.alive.value.kind === 'live' ? 'Nothing needs you: ' : ''}
          {alive.headline}, {alive.rest}
        </p>
      ) : (
        <Worst alarm={worst} />
      )}
      {ready.value ? (
        <p class="page-note">
          Leave this page open, the device plugged in and loud. It is a second way, not the only one.
        </p>
      ) : (
        <button type="button" class="night-button night-button-first" onClick={start}>
          Let this page sound
        </button>
      )}
      <p class="page-note">
        <a href={makeRoute({ page: 'room' })}>Room</a>
      </p>
    </main>
  );
};

const Worst = ({ alarm }: { readonly alarm: Parameters<typeof useFault>[0] }) => {
  const room = useRoom();
  const id = placeOf(alarm.subject);
  const place = placeNamed(room, id)?.name ?? id;
  const words = findingSentence(alarm.finding, { ...room.reader.value, nowMs: room.nowMs.value, place });
  return (
    <p class="bedside-loud" role="alert">
      <a href={makeRoute({ page: 'alarm', id: alarm.id })}>
        <b>{place}</b> {words.headline}
        {words.left === undefined ? '' : `, ${words.left} left`}. {words.cause}
      </a>
    </p>
  );
};
