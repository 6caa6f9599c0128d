import { type Signal, useSignal } from '@preact/signals';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { FaultVerb } from '../../rules/alerts/answer.js';
import { nextToCall, telUrl } from '../../rules/alerts/numbers.js';
import type { FaultPicture, PersonPicture } from '../../rules/wire/waking.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import { waking } from '../link/waking.js';
import { useAsked } from '../state/asked.js';
import { useRoom } from '../state/room.js';
import { session } from '../state/session.js';
import { Choice } from './field.js';
import { Pills } from './pills.js';

const MINUTES = [
  ['20', '20 min'],
  ['40', '40 min'],
  ['60', '1 h'],
] as const;

/** The fault behind an alarm, asked anew with every change of the journal. */
export const useFault = (alarm: AlarmPicture): FaultPicture | undefined => {
  const room = useRoom();
  const { answer } = useAsked(waking.faults, String(room.picture.value?.sequence ?? 0));
  return answer.value.kind === 'here'
    ? answer.value.value.find(({ alarmIds }) => alarmIds.includes(alarm.id))
    : undefined;
};

/** Who has it, who knows, and what the person at this screen says: I am going, pass on, I am here, I have left. */
export const FaultAnswer = ({ fault }: { readonly fault: FaultPicture }) => {
  const minutes = useSignal('20');
  const by = useSignal('');
  const said = useSignal<string | undefined>(undefined);
  const sending = useSignal(false);
  const { answer } = useAsked(waking.people, 'people');
  const people = answer.value.kind === 'here' ? answer.value.value : [];
  const me = people.find(({ account, name }) => account === session.value?.name || name === session.value?.name);
  const say = async (verb: FaultVerb): Promise<void> => {
    sending.value = true;
    const person = me?.id ?? by.value;
    const body = {
      ...(verb === 'going' ? { minutes: Number(minutes.value) } : {}),
      ...(person === '' ? {} : { by: person }),
    };
    const asked = await waking.answer(fault.id, verb, body);
    sending.value = false;
    said.value = asked.ok ? undefined : asked.fault.detail;
  };
  const isOut = fault.standing === 'going' || fault.standing === 'there';
  const isDone = fault.standing === 'ended' || fault.standing === 'nobody-called';
  return (
    <div class="answer">
      <FaultStanding fault={fault} />
      <p role="alert">{said.value}</p>
      {me === undefined && people.length > 0 && !isDone ? <Who people={people} by={by} /> : null}
      {isOut || isDone ? null : (
        <>
          <div class="answer-minutes">
            <Pills
              label="Back word within"
              value={minutes}
              onChoose={(value) => (minutes.value = value)}
              choices={MINUTES}
            />
          </div>
          <button
            type="button"
            class="night-button night-button-first"
            disabled={sending.value}
            onClick={() => void say('going')}
          >
            I am going
          </button>
        </>
      )}
      {fault.standing === 'there' ? (
        <button
          type="button"
          class="night-button night-button-first"
          disabled={sending.value}
          onClick={() => void say('safe')}
        >
          I have left, and I am well
        </button>
      ) : null}
      <div class="answer-row">
        {isOut || isDone ? null : (
          <button type="button" class="night-button" disabled={sending.value} onClick={() => void say('pass-on')}>
            Pass on
          </button>
        )}
        {isDone || fault.standing === 'there' ? null : (
          <button type="button" class="night-button" disabled={sending.value} onClick={() => void say('there')}>
            I am here
          </button>
        )}
        <CallNext but={me?.id} />
      </div>
    </div>
  );
};

/** One press to telephone the next on watch, or the emergency contact. */
const CallNext = ({ but }: { readonly but: string | undefined }) => {
  const { answer } = useAsked(waking.numbers, 'numbers');
  const next = answer.value.kind === 'here' ? nextToCall(answer.value.value, but) : undefined;
  return next === undefined ? null : (
    <a class="night-button" href={telUrl(next.phone)}>
      Call {next.name}
    </a>
  );
};

type WhoProps = {
  readonly people: readonly PersonPicture[];
  readonly by: Signal<string>;
};

const Who = ({ people, by }: WhoProps) => (
  <Choice
    label="Who are you?"
    value={by}
    choices={[['', 'choose'], ...people.map(({ id, name }) => [id, name] as const)]}
  />
);

/** One line: who is going or there, until when, and who else was told. */
export const FaultStanding = ({ fault }: { readonly fault: FaultPicture }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const { standing, by = 'Somebody', sinceMs, untilMs, told } = fault;
  const since = durationWords(room.nowMs.value - sinceMs, reader);
  const words: { readonly [kind in FaultPicture['standing']]: string } = {
    going: `${by} is going${untilMs === undefined ? '' : `, back word by ${clockWords(untilMs, reader)}`}`,
    there: `${by} is there, since ${since}`,
    passing: `${by} passed it on; it stays with ${by} until taken`,
    acknowledged: `${by} has seen it, ${since} ago`,
    climbing: 'Nobody has answered yet',
    ended: 'Nobody is being called for it any more',
    'nobody-called': 'Nobody is called for this',
  };
  return (
    <p class="answered" role="status">
      {words[standing]}
      {told.length === 0 ? '' : `. Told: ${told.join(', ')}`}
    </p>
  );
};
