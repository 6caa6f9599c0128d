import { type Signal, useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import type { DeliveryPicture, DeliverySettings } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { Choice, Field } from './field.js';

export type FormProps = {
  readonly body: DeliveryPicture;
  readonly save: (change: (settings: DeliverySettings) => DeliverySettings) => void;
};

/** A secret that is kept shows as such; an empty field leaves it as it is. */
const keptHint = (isKept: boolean): string =>
  isKept ? 'One is kept. Leave empty to keep it; write to replace it' : 'Goes in and is never shown again';

const given = <K extends string>(key: K, value: Signal<string>): { readonly [key in K]?: string } =>
  value.value.trim() === '' ? {} : ({ [key]: value.value.trim() } as { readonly [key in K]: string });

type FrameProps = {
  readonly isSet: boolean;
  readonly onSave: () => void;
  readonly onRemove?: () => void;
  readonly children: ComponentChildren;
};

const Frame = ({ isSet, onSave, onRemove, children }: FrameProps) => (
  <form
    class="waking-form"
    onSubmit={(event) => {
      event.preventDefault();
      onSave();
    }}
  >
    <div class="form-grid">{children}</div>
    <div class="pill-row">
      <button type="submit" class="pill">
        Save
      </button>
      {isSet && onRemove !== undefined ? (
        <button type="button" class="pill pill-quiet" onClick={onRemove}>
          Take it away
        </button>
      ) : null}
    </div>
  </form>
);

export const MailForm = ({ body: { email, kept }, save }: FormProps) => {
  const host = useSignal(email?.host ?? '');
  const port = useSignal(String(email?.port ?? 587));
  const security = useSignal<string>(email?.security ?? 'starttls');
  const from = useSignal(email?.from ?? '');
  const user = useSignal(email?.user ?? '');
  const password = useSignal('');
  const onSave = (): void =>
    save((settings) => ({
      ...settings,
      email: {
        host: host.value.trim(),
        port: Number(port.value),
        security: security.value as 'tls' | 'starttls' | 'none',
        from: from.value.trim(),
        ...given('user', user),
        ...given('password', password),
      },
    }));
  return (
    <Frame isSet={email !== undefined} onSave={onSave} onRemove={() => save(({ email: _, ...rest }) => rest)}>
      <Field label="Mail server" hint="As in mail.example.org" value={host} />
      <Field label="Port" type="number" hint="587, or 465 with encryption from the first byte" value={port} />
      <Choice
        label="Encryption"
        value={security}
        choices={[
          ['starttls', 'demanded before anything is said'],
          ['tls', 'from the first byte'],
          ['none', 'none: a server within the house only'],
        ]}
      />
      <Field label="Sender" hint="As in watch@example.org" value={from} />
      <Field label="User" value={user} />
      <Field
        label="Password"
        type="password"
        autocomplete="new-password"
        hint={keptHint(kept.password)}
        value={password}
      />
    </Frame>
  );
};

export const ModemForm = ({ body: { modem, kept }, save }: FormProps) => {
  const path = useSignal(modem?.path ?? '');
  const baud = useSignal(String(modem?.baud ?? 115_200));
  const pin = useSignal('');
  const onSave = (): void =>
    save((settings) => ({
      ...settings,
      modem: { path: path.value.trim(), baud: Number(baud.value), ...given('pin', pin) },
    }));
  return (
    <Frame isSet={modem !== undefined} onSave={onSave} onRemove={() => save(({ modem: _, ...rest }) => rest)}>
      <Field label="Port" hint="As in /dev/ttyUSB0 or COM3" value={path} />
      <Field label="Speed" type="number" unit="baud" value={baud} />
      <Field label="PIN of the card" type="password" autocomplete="off" hint={keptHint(kept.pin)} value={pin} />
    </Frame>
  );
};

export const WebhookForm = ({ body: { webhook, kept }, save }: FormProps) => {
  const keyId = useSignal(webhook?.keyId ?? 'nightwater');
  const secret = useSignal('');
  const onSave = (): void =>
    save((settings) => ({ ...settings, webhook: { keyId: keyId.value.trim(), ...given('secret', secret) } }));
  return (
    <Frame isSet={webhook !== undefined} onSave={onSave} onRemove={() => save(({ webhook: _, ...rest }) => rest)}>
      <Field label="Name of the key" hint="Sent along, so that the other end knows which" value={keyId} />
      <Field
        label="Signing key"
        type="password"
        autocomplete="off"
        hint={kept.secret ? keptHint(true) : 'At least 32 characters, the same at the other end; never shown again'}
        value={secret}
      />
      <p class="page-note">
        The address stands with each person under Watch. Signed by HMAC-SHA256 after RFC 9421 and RFC 9530.
      </p>
    </Frame>
  );
};

export const CheckInForm = ({ body: { checkInUrl }, save }: FormProps) => {
  const url = useSignal(checkInUrl ?? '');
  const onSave = (): void => save(({ checkInUrl: _, ...rest }) => ({ ...rest, ...given('checkInUrl', url) }));
  return (
    <Frame isSet={checkInUrl !== undefined} onSave={onSave} onRemove={() => save(({ checkInUrl: _, ...rest }) => rest)}>
      <Field
        label="Address"
        hint="Called each minute. A service outside that misses the calls wakes you when the whole site is dark"
        value={url}
      />
    </Frame>
  );
};

export const PushForm = ({ body: { contact, pushKey, phones }, save, again }: FormProps & { again: () => void }) => {
  const address = useSignal((contact ?? '').replace(/^mailto:/, ''));
  const asking = useSignal(false);
  const said = useSignal<string | undefined>(undefined);
  const onSave = (): void =>
    save(({ contact: _, ...rest }) => {
      const typed = address.value.trim();
      if (typed === '') return rest;
      return { ...rest, contact: typed.includes('://') ? typed : `mailto:${typed}` };
    });
  const renew = async (): Promise<void> => {
    const asked = await waking.renewPushKey();
    said.value = asked.ok ? `A new key. Phones that must subscribe again: ${asked.value.phones}.` : asked.fault.detail;
    asking.value = false;
    if (asked.ok && asked.value.phones === 0) again();
  };
  return (
    <>
      <Frame isSet={false} onSave={onSave}>
        <Field label="Whom a push service may ask" hint="An e-mail address of the hatchery" value={address} />
        <div>
          <p class="page-note">Phones subscribed: {phones}. They know this site by this key:</p>
          <code class="push-key">{pushKey}</code>
        </div>
      </Frame>
      <p role="status">{said.value}</p>
      {asking.value ? (
        <div class="pill-row">
          <button type="button" class="pill pill-first" onClick={() => void renew()}>
            Yes, every phone subscribes again
          </button>
          <button type="button" class="pill" onClick={() => (asking.value = false)}>
            Keep the key
          </button>
        </div>
      ) : (
        <button type="button" class="pill pill-quiet" onClick={() => (asking.value = true)}>
          Make a new key
        </button>
      )}
    </>
  );
};
