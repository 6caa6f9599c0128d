import { useSignal } from '@preact/signals';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { momentWords } from '../../rules/words/clock.js';
import type { AlarmDeedName } from '../link/api.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, mayChange, session } from '../state/session.js';
import { Field } from './field.js';
import { Pills } from './pills.js';

const MINUTES = [
  ['30', '30 min'],
  ['60', '1 h'],
  ['240', '4 h'],
  ['480', '8 h'],
] as const;

/** Does something to an alarm, and puts what it became into the room; the sentence of a refusal. */
const useDeed = (alarm: AlarmPicture) => {
  const room = useRoom();
  const api = useApi();
  const said = useSignal<string | undefined>(undefined);
  const tell = async (deed: AlarmDeedName, body: object = {}): Promise<boolean> => {
    const asked = await api.alarmDeed(alarm.id, deed, body);
    said.value = asked.ok ? undefined : asked.fault.detail;
    const picture = room.picture.value;
    if (asked.ok && picture !== undefined)
      room.picture.value = {
        ...picture,
        alarms: picture.alarms.map((one) => (one.id === alarm.id ? asked.value : one)),
      };
    return asked.ok;
  };
  return { said, tell };
};

/** What may have done harm stays until somebody has looked at the animals and says so. */
export const Latched = ({ alarm }: { readonly alarm: AlarmPicture }) => {
  const { said, tell } = useDeed(alarm);
  if (alarm.state !== 'latched-unack' && alarm.state !== 'latched-ack') return null;
  const close = async (): Promise<void> => {
    if (alarm.state === 'latched-ack' || (await tell('acknowledgement'))) await tell('reset');
  };
  return (
    <section class="latched">
      <p class="said-alarm">
        The water is back inside, but it was beyond what is never to be passed. Look at the animals, and write down what
        you see.
      </p>
      <p role="alert">{said.value}</p>
      {mayAnswer(session.value) ? (
        <button type="button" class="night-button" onClick={() => void close()}>
          I have looked: close it
        </button>
      ) : null}
    </section>
  );
};

/** Put aside for a while and with a reason: by the crew what can wait, by a manager anything; and taken back. */
export const Aside = ({ alarm }: { readonly alarm: AlarmPicture }) => {
  const { said, tell } = useDeed(alarm);
  const open = useSignal(false);
  const may = mayChange(session.value) || (mayAnswer(session.value) && alarm.priority === 'low');
  if (alarm.inhibit === 'shelved' || alarm.inhibit === 'out-of-service')
    return <IsAside alarm={alarm} said={said.value} back={(deed) => void tell(deed)} />;
  if (!may || alarm.inhibit !== undefined || alarm.state.startsWith('latched')) return null;
  return (
    <section class="aside">
      <button
        type="button"
        class="pill pill-quiet"
        aria-expanded={open.value}
        onClick={() => (open.value = !open.value)}
      >
        Put this alarm aside
      </button>
      {open.value ? <AsideForm tell={tell} said={said.value} /> : null}
    </section>
  );
};

type Tell = ReturnType<typeof useDeed>['tell'];

const AsideForm = ({ tell, said }: { readonly tell: Tell; readonly said: string | undefined }) => {
  const minutes = useSignal('60');
  const reason = useSignal('');
  const why = useSignal<string | undefined>(undefined);
  const ask = (deed: AlarmDeedName, more: object): void => {
    why.value = reason.value.trim() === '' ? 'Write why: whoever comes next must know.' : undefined;
    if (why.value === undefined) void tell(deed, { ...more, reason: reason.value.trim() });
  };
  const isManager = mayChange(session.value);
  return (
    <form
      class="waking-form"
      onSubmit={(event) => {
        event.preventDefault();
        ask('shelving', { minutes: Number(minutes.value) });
      }}
    >
      <Pills label="For" value={minutes} choices={MINUTES} onChoose={(value) => (minutes.value = value)} />
      <Field label="Why" value={reason} {...(why.value === undefined ? {} : { fault: why.value })} />
      <p class="form-said said-alarm" role="alert">
        {said}
      </p>
      <div class="pill-row">
        <button type="submit" class="pill">
          Put it aside
        </button>
        {isManager ? (
          <button type="button" class="pill pill-quiet" onClick={() => ask('out-of-service', {})}>
            Out of service, until I take it back
          </button>
        ) : null}
      </div>
    </form>
  );
};

type IsAsideProps = {
  readonly alarm: AlarmPicture;
  readonly said: string | undefined;
  readonly back: (deed: AlarmDeedName) => void;
};

const IsAside = ({ alarm, said, back }: IsAsideProps) => {
  const room = useRoom();
  const { inhibit, inhibitBy = 'Somebody', inhibitReason, inhibitUntilMs } = alarm;
  const isShelved = inhibit === 'shelved';
  const until =
    inhibitUntilMs === undefined ? '' : `, until ${momentWords(inhibitUntilMs, room.nowMs.value, room.reader.value)}`;
  const may = isShelved ? mayAnswer(session.value) : mayChange(session.value);
  return (
    <section class="aside">
      <p class="said-alarm" role="status">
        {isShelved ? `${inhibitBy} put it aside${until}` : `${inhibitBy} took it out of service`}
        {inhibitReason === undefined ? '' : `: ${inhibitReason}`}. Nobody is woken for it.
      </p>
      <p role="alert">{said}</p>
      {may ? (
        <button type="button" class="pill" onClick={() => back(isShelved ? 'unshelving' : 'back-in-service')}>
          Take it back
        </button>
      ) : null}
    </section>
  );
};
