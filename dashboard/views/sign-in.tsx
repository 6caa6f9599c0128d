import { useSignal } from '@preact/signals';
import { cautions } from '../../rules/words/check.js';
import { Field } from '../parts/field.js';
import { useApi } from '../state/gateway.js';
import { session } from '../state/session.js';

/** Signing in; or, once in the life of a site, making its first manager with the code that the gateway printed. */
export const SignIn = ({ onDone }: { readonly onDone: () => void }) => {
  const api = useApi();
  const first = session.value?.first === true;
  const name = useSignal('');
  const passphrase = useSignal('');
  const code = useSignal('');
  const said = useSignal<string | undefined>(undefined);
  const sending = useSignal(false);
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    sending.value = true;
    const asked = first
      ? await api.signInFirst(code.value.trim(), name.value.trim(), passphrase.value)
      : await api.signIn(name.value.trim(), passphrase.value);
    sending.value = false;
    if (!asked.ok) said.value = asked.fault.detail;
    else {
      session.value = asked.value;
      onDone();
    }
  };
  return (
    <main class="sign-in">
      <SurfaceLine />
      <h1>Nightwater</h1>
      <p>{first ? 'Nobody can sign in yet. Make the first manager.' : 'Sign in to see the room.'}</p>
      <form onSubmit={(event) => void send(event)}>
        {first ? (
          <Field
            label="One-time code"
            hint="The gateway printed it when it started."
            value={code}
            autocomplete="one-time-code"
          />
        ) : null}
        <Field label="Name" value={name} autocomplete="username" />
        <Field
          label="Passphrase"
          {...(first ? { hint: 'Some words you can remember; twelve letters or more.' } : {})}
          value={passphrase}
          type="password"
          autocomplete={first ? 'new-password' : 'current-password'}
        />
        <p class="form-said" role="alert">
          {said.value}
        </p>
        <button type="submit" class="night-button night-button-first" disabled={sending.value}>
          {first ? 'Make the first manager' : 'Sign in'}
        </button>
      </form>
      <p class="cautions">{cautions().second}</p>
    </main>
  );
};

/** The waterline with one float: the whole of the product's mark. */
const SurfaceLine = () => (
  <svg class="surface-line" viewBox="0 0 320 60" aria-hidden="true">
    <rect class="reading-water" x="0" y="16" width="320" height="28" />
    <path class="reading-surface" d="M0 16H320M0 44H320" />
    <path class="reading-trail" d="M20 34C60 22 90 40 130 30S190 24 216 28" />
    <circle class="reading-float" cx="216" cy="28" r="8" />
  </svg>
);
