import { useSignal } from '@preact/signals';
import type { Person, PersonWay, Way } from '../../rules/alerts/person.js';
import type { PersonPicture } from '../../rules/wire/waking.js';
import { waking } from '../link/waking.js';
import { waysOf } from './add-person.js';
import { Field } from './field.js';
import { WakingForm, YesNo } from './waking-form.js';

const addressOf = (person: PersonPicture, way: Way): string =>
  person.ways.find((one) => one.way === way)?.address ?? '';

/** What was tried stays known, unless its address is another now. */
const kept = (fresh: readonly PersonWay[], before: readonly PersonWay[]): readonly PersonWay[] =>
  fresh.map((way) => before.find((one) => one.way === way.way && one.address === way.address) ?? way);

/** Name, number, addresses, and whether they may be called as a manager; or off the list. */
export const ChangePerson = ({ person, done }: { readonly person: PersonPicture; readonly done: () => void }) => {
  const name = useSignal(person.name);
  const phone = useSignal(person.phone ?? addressOf(person, 'ring'));
  const email = useSignal(addressOf(person, 'email'));
  const hook = useSignal(addressOf(person, 'webhook'));
  const account = useSignal(person.account ?? '');
  const manager = useSignal(person.manager ? 'yes' : 'no');
  const said = useSignal<string | undefined>(undefined);
  const tell = (sentence: string | undefined): void => {
    said.value = sentence;
    if (sentence === undefined) done();
  };
  const save = async (): Promise<void> => {
    const number = phone.value.trim();
    const changed: Person = {
      id: person.id,
      name: name.value.trim(),
      manager: manager.value === 'yes',
      ways: kept(waysOf(phone.value, email.value, hook.value), person.ways),
      ...(account.value.trim() === '' ? {} : { account: account.value.trim() }),
      ...(number === '' ? {} : { phone: number }),
    };
    const asked = await waking.putPerson(changed, person.version);
    tell(asked.ok ? undefined : asked.fault.detail);
  };
  const remove = async (): Promise<void> => {
    const asked = await waking.removePerson(person.id);
    tell(asked.ok ? undefined : asked.fault.detail);
  };
  return (
    <WakingForm
      send={() => void save()}
      said={said.value}
      buttons={
        <div class="pill-row">
          <button type="submit" class="pill pill-first">
            Save
          </button>
          <button type="button" class="pill pill-quiet" onClick={() => void remove()}>
            Take {person.name} off the list
          </button>
        </div>
      }
    >
      <div class="form-grid">
        <Field label="Name" value={name} />
        <Field label="Signs in as" value={account} />
        <Field label="Phone number" hint="With its country, as in +1 555 010 0123" value={phone} />
        <Field label="E-mail" value={email} />
        <Field label="Webhook" hint="An https address that is called, signed" value={hook} />
      </div>
      <YesNo label="May be called as a manager" value={manager} />
    </WakingForm>
  );
};
