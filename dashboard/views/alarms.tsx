import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { durationWords, momentWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { LifeLine, Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { placeOf } from '../state/strip.js';
import { AlarmLine } from './list.js';

/** What is open, worst first; what ended lately; and what is put aside. */
export const Alarms = () => {
  const room = useRoom();
  const open = room.alarms.value;
  const aside = (room.picture.value?.alarms ?? []).filter(({ inhibit }) => inhibit !== undefined);
  return (
    <Page here="alarms">
      <h1 class="page-title">{open.length === 0 ? 'No alarm is open' : 'Open, worst first'}</h1>
      <ol class="list-alarms">
        {open.map((alarm) => (
          <AlarmLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
      {aside.length === 0 ? null : (
        <>
          <h2 class="page-part">Put aside</h2>
          <ol class="list-alarms">
            {aside.map((alarm) => (
              <AlarmLine key={alarm.id} alarm={alarm} />
            ))}
          </ol>
        </>
      )}
      <Ended key={open.length} />
      <LifeLine />
    </Page>
  );
};

const Ended = () => {
  const api = useApi();
  const { answer } = useAsked(() => api.alarms('ended'), 'ended');
  if (answer.value.kind === 'waiting') return null;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  const ended = answer.value.value;
  return (
    <>
      <h2 class="page-part">Ended lately</h2>
      {ended.length === 0 ? <p class="page-note">None yet.</p> : null}
      <ol class="ended">
        {ended.map((alarm) => (
          <EndedLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
    </>
  );
};

const EndedLine = ({ alarm }: { alarm: AlarmPicture }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const id = placeOf(alarm.subject);
  const place = room.picture.value?.places.find((one) => one.id === id)?.name ?? id;
  const words = findingSentence(alarm.finding, { ...reader, nowMs, place });
  const answered = alarm.acknowledgedBy === undefined ? 'nobody answered' : `${alarm.acknowledgedBy} answered`;
  return (
    <li>
      <b>{place}</b> {words.headline}: {words.cause}
      <small>
        {momentWords(alarm.activatedMs, nowMs, reader)}, lasted{' '}
        {durationWords(alarm.changedMs - alarm.activatedMs, reader)}, {answered}
      </small>
    </li>
  );
};
