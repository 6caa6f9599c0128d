import { useSignal } from '@preact/signals';
import type { Versioned } from '../../rules/wire/api.js';
import type { DeliveryPicture, DeliverySettings, PersonPicture } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { Page } from '../parts/page.js';
import { TryWay } from '../parts/try-way.js';
import { CheckInForm, MailForm, ModemForm, PushForm, WebhookForm } from '../parts/way-forms.js';
import { useAsked } from '../state/asked.js';
import { useRoom } from '../state/room.js';

/** How messages leave this site: each way with its settings and a try. Secrets go in here and are never shown again. */
export const WaysOut = () => {
  const delivery = useAsked(waking.delivery, 'delivery');
  const people = useAsked(waking.people, 'people');
  const { value } = delivery.answer;
  const listed = people.answer.value.kind === 'here' ? people.answer.value.value : [];
  return (
    <Page here="ways-out">
      <h1 class="page-title">Ways out</h1>
      <p class="page-note">
        Push, e-mail and webhook share the internet line. A modem with a card of its own works without it, and rings
        through silence. Have one of each kind, and try them by day.
      </p>
      {value.kind === 'refused' ? <p class="page-note">{value.problem.detail}</p> : null}
      {value.kind === 'here' && people.answer.value.kind !== 'waiting' ? (
        <Ways key={value.value.version} row={value.value} people={listed} again={delivery.again} />
      ) : null}
    </Page>
  );
};

type WaysProps = {
  readonly row: Versioned<DeliveryPicture>;
  readonly people: readonly PersonPicture[];
  readonly again: () => void;
};

/** Only what is set: what is kept secret stays by being left out. */
const settingsOf = ({ kept: _, pushKey: _key, phones: _phones, ...settings }: DeliveryPicture): DeliverySettings =>
  settings;

const Ways = ({ row: { body, version }, people, again }: WaysProps) => {
  const said = useSignal<string | undefined>(undefined);
  const save = async (change: (settings: DeliverySettings) => DeliverySettings): Promise<void> => {
    const asked = await waking.putDelivery(change(settingsOf(body)), version);
    said.value = asked.ok ? undefined : asked.fault.detail;
    if (asked.ok) again();
    else scrollTo({ top: 0 });
  };
  const forms = { body, save: (change: Parameters<typeof save>[0]) => void save(change) };
  return (
    <>
      <p class="form-said said-alarm" role="alert">
        {said.value}
      </p>
      <h2 class="page-part">Modem on site: text and ringing call</h2>
      <ModemForm {...forms} />
      <TryWay what="text" word="Send a test text now" people={people} />
      <TryWay what="ring" word="Ring now" people={people} />
      <h2 class="page-part">Push to phones</h2>
      <PushForm {...forms} again={again} />
      <TryWay what="push" word="Push now" people={people} />
      <h2 class="page-part">E-mail</h2>
      <MailForm {...forms} />
      <TryWay what="email" word="Send a test mail now" people={people} />
      <h2 class="page-part">Webhook</h2>
      <WebhookForm {...forms} />
      <TryWay what="webhook" word="Call it now" people={people} />
      <h2 class="page-part">Check-in outside</h2>
      <CheckInForm {...forms} />
      <TryWay what="check-in" word="Check in now" />
      <Lamp />
    </>
  );
};

const Lamp = () => {
  const site = useRoom().picture.value?.site.id ?? 'SITE';
  return (
    <>
      <h2 class="page-part">Lamp or siren in the building</h2>
      <p class="page-note">
        A board that listens to this topic on the broker hears of every alarm, one kept message each: {'{'}"state":
        "sounding" or "silent", "priority", "place", "condition", "sinceMs"{'}'}; an empty message means that it is
        over. Wire mains lamps and sirens by licensed hands only.
      </p>
      <code class="publish-line">nightwater/{site}/alarms/+</code>
      <TryWay what="lamp" word="Sound for three seconds" />
    </>
  );
};
