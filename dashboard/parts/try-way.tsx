import { useSignal } from '@preact/signals';
import type { PersonPicture, Trial } from '../../rules/wire/waking.js';
import { deliveryWords } from '../../rules/words/delivery.js';
import { waking } from '../link/waking.js';
import { useRoom } from '../state/room.js';
import { Choice } from './field.js';

type TryProps = {
  readonly what: Trial;
  /** What stands on the button. */
  readonly word: string;
  /** To whom; absent for the lamp and the check-in. */
  readonly people?: readonly PersonPicture[];
};

/** A test now, by what is saved: what became of it is said in a sentence. */
export const TryWay = ({ what, word, people }: TryProps) => {
  const reader = useRoom().reader.value;
  const reached = people?.filter(({ ways }) => ways.some(({ way }) => way === what)) ?? [];
  const who = useSignal(reached[0]?.id ?? '');
  const busy = useSignal(false);
  const said = useSignal<{ readonly well: boolean; readonly words: string } | undefined>(undefined);
  if (people !== undefined && reached.length === 0)
    return <p class="page-note">{word}: nobody on the list has this way. Add it under Watch, then try it here.</p>;
  const go = async (): Promise<void> => {
    busy.value = true;
    said.value = undefined;
    const asked = await waking.trial({ what, ...(people === undefined ? {} : { personId: who.value }) });
    busy.value = false;
    if (!asked.ok) said.value = { well: false, words: asked.fault.detail };
    else {
      const { taken, code, detail } = asked.value;
      const also = taken || detail === undefined ? '' : ` (${detail})`;
      said.value = { well: taken, words: `${deliveryWords(code, reader)}${also}` };
    }
  };
  return (
    <div class="try-way">
      {people === undefined ? null : (
        <Choice label="To" value={who} choices={reached.map(({ id, name }) => [id, name] as const)} />
      )}
      <button type="button" class="pill" disabled={busy.value} onClick={() => void go()}>
        {busy.value ? 'Trying …' : word}
      </button>
      <p class={said.value?.well === false ? 'said-alarm' : undefined} role="status">
        {said.value?.words}
      </p>
    </div>
  );
};
