import { useSignal } from '@preact/signals';
import type { Person, PersonWay } from '../../rules/alerts/person.js';
import type { PersonPicture } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { Field } from './field.js';
import { WakingForm, YesNo } from './waking-form.js';

/** Lower-case letters, digits and dashes of a name; empty when nothing of it is left. */
export const personId = (name: string): string =>
  name
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 40);

/** Every way that was given; push is always there, and waits for a phone to subscribe. */
export const waysOf = (phone: string, email: string, hook = ''): readonly PersonWay[] => {
  const number = phone.replaceAll(/[\s().-]/g, '');
  const fresh = { wakes: 'not-tried' } as const;
  return [
    { way: 'push', address: '', ...fresh },
    ...(number === ''
      ? []
      : [{ way: 'text', address: number, ...fresh } as const, { way: 'ring', address: number, ...fresh } as const]),
    ...(email.trim() === '' ? [] : [{ way: 'email', address: email.trim(), ...fresh } as const]),
    ...(hook.trim() === '' ? [] : [{ way: 'webhook', address: hook.trim(), ...fresh } as const]),
  ];
};

/** Somebody new who may be woken: a name, a number, an address. */
export const AddPerson = ({
  people,
  done,
}: {
  readonly people: readonly PersonPicture[];
  readonly done: () => void;
}) => {
  const name = useSignal('');
  const phone = useSignal('');
  const email = useSignal('');
  const manager = useSignal('no');
  const said = useSignal<string | undefined>(undefined);
  const add = async (): Promise<void> => {
    const id = personId(name.value);
    const ways = waysOf(phone.value, email.value);
    if (id === '') said.value = 'Write a name with at least one letter.';
    else if (people.some((person) => person.id === id)) said.value = `${name.value} is on the list already.`;
    else {
      const person: Person = {
        id,
        name: name.value.trim(),
        account: name.value.trim(),
        manager: manager.value === 'yes',
        ways,
      };
      const asked = await waking.putPerson(person, 0);
      said.value = asked.ok ? undefined : asked.fault.detail;
      if (asked.ok) {
        for (const field of [name, phone, email]) field.value = '';
        done();
      }
    }
  };
  return (
    <WakingForm
      send={() => void add()}
      said={said.value}
      buttons={
        <button type="submit" class="pill">
          Add
        </button>
      }
    >
      <div class="form-grid">
        <Field label="Name" hint="As they sign in, so that their answers are theirs" value={name} />
        <Field
          label="Phone number"
          hint="With its country, as in +1 555 010 0123: for text and ringing call by the modem on site"
          value={phone}
        />
        <Field label="E-mail" value={email} />
      </div>
      <YesNo label="May be called as a manager, when nobody else answers" value={manager} />
    </WakingForm>
  );
};
