import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { BoardSettings } from '../../rules/hatchery.js';
import type { Versioned } from '../../rules/wire/api.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { mayChange, session } from '../state/session.js';
import { Choice, Field } from './field.js';

/** Every board that was heard, with where it gets power and network: one cause behind many silences is then told once. */
export const BoardList = () => {
  const boards = useRoom().picture.value?.boards ?? [];
  const open = useSignal<string | undefined>(undefined);
  if (boards.length === 0) return null;
  return (
    <>
      <h2 class="page-part">Power and network of each board</h2>
      <ol class="places">
        {boards.map(({ id, state }) => (
          <li key={id}>
            <p class="place-words">
              <b>{id}</b> <span>{state}</span>
              {mayChange(session.value) ? (
                <button
                  type="button"
                  class="plain edit-word"
                  aria-expanded={open.value === id}
                  onClick={() => (open.value = open.value === id ? undefined : id)}
                >
                  {open.value === id ? 'Close' : 'Change'}
                  <span class="for-voice"> {id}</span>
                </button>
              ) : null}
            </p>
            {open.value === id ? <BoardEditor id={id} onDone={() => (open.value = undefined)} /> : null}
          </li>
        ))}
      </ol>
    </>
  );
};

type EditorProps = { readonly id: string; readonly onDone: () => void };

const BoardEditor = ({ id, onDone }: EditorProps) => {
  const api = useApi();
  const { answer, again } = useAsked(() => api.board(id), id);
  if (answer.value.kind === 'waiting') return <p class="page-note">Fetching …</p>;
  if (answer.value.kind === 'refused') return <p class="page-note">{answer.value.problem.detail}</p>;
  return <BoardForm key={answer.value.value.version} board={answer.value.value} onDone={onDone} onAgain={again} />;
};

type FormProps = {
  readonly board: Versioned<BoardSettings>;
  readonly onDone: () => void;
  readonly onAgain: () => void;
};

const BoardForm = ({ board, onDone, onAgain }: FormProps) => {
  const api = useApi();
  const circuits = (useRoom().picture.value?.places ?? []).filter(({ kind }) => kind === 'circuit');
  const circuit = useSignal(board.body.circuitId ?? '');
  const network = useSignal(board.body.accessPoint ?? '');
  const said = useSignal<string | undefined>(undefined);
  const isChanged = useMemo(() => ({ elsewhere: false }), []);
  const save = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { id } = board.body;
    const accessPoint = network.value.trim();
    const body = {
      id,
      ...(circuit.value === '' ? {} : { circuitId: circuit.value }),
      ...(accessPoint === '' ? {} : { accessPoint }),
    };
    const asked = await api.putBoard(body, board.version);
    if (asked.ok) return onDone();
    isChanged.elsewhere = asked.fault.status === 412;
    said.value = isChanged.elsewhere
      ? 'Somebody changed this board while you were writing. Nothing of yours was kept.'
      : asked.fault.detail;
  };
  return (
    <form class="place-form" onSubmit={(event) => void save(event)}>
      <div class="form-grid">
        <Choice
          label="Power circuit"
          value={circuit}
          choices={[['', 'not said'], ...circuits.map(({ id, name }) => [id, name] as const)]}
          {...(circuits.length === 0 ? { hint: 'Add a power circuit under Tanks first.' } : {})}
        />
        <Field label="Network" hint="The access point or switch that it hangs on, as you call it." value={network} />
      </div>
      <p class="form-said" role="status">
        {said.value}{' '}
        {said.value !== undefined && isChanged.elsewhere ? (
          <button type="button" class="plain edit-word" onClick={onAgain}>
            Show theirs
          </button>
        ) : null}
      </p>
      <button type="submit" class="night-button night-button-first">
        Keep the change
      </button>
    </form>
  );
};
