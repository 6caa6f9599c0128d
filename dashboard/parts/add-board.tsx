import { useSignal } from '@preact/signals';
import type { AddedBoard } from '../../rules/wire/api.js';
import { useApi } from '../state/gateway.js';
import { Field } from './field.js';
import { LineToPaste } from './publish-line.js';

/** A password for a board that is not on this machine, told once, inside the line that uses it. */
export const AddBoard = () => {
  const api = useApi();
  const name = useSignal('');
  const said = useSignal<string | undefined>(undefined);
  const added = useSignal<AddedBoard | undefined>(undefined);
  const add = async (event: Event): Promise<void> => {
    event.preventDefault();
    const asked = await api.addBoard(name.value.trim().toLowerCase(), false);
    said.value = asked.ok ? undefined : asked.fault.detail;
    added.value = asked.ok ? asked.value : undefined;
    if (asked.ok) name.value = '';
  };
  return (
    <section>
      <h2 class="page-part">Add a board</h2>
      <form class="source-form" onSubmit={(event) => void add(event)}>
        <Field label="Name of the board" hint="Small letters, digits and dashes: shed-2." value={name} />
        <button type="submit" class="night-button" disabled={name.value.trim() === ''}>
          Add the board
        </button>
        <p class="form-said" role="alert">
          {said.value}
        </p>
      </form>
      {added.value === undefined ? null : <Added {...added.value} />}
    </section>
  );
};

const Added = ({ board, password, recipe }: AddedBoard) => (
  <div role="status">
    <p class="page-note">
      {board} may publish now. Its password is <b>{password}</b>: write it into the board now, it is not shown again.
      Its state goes to <b>{recipe.statusTopic}</b>. {recipe.remark}
    </p>
    <LineToPaste line={recipe.publishLine} />
  </div>
);
