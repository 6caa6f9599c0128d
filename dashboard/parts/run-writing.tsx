import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { ENTRY_KINDS } from '../../rules/log/entry.js';
import type { SpawningRun } from '../../rules/log/run.js';
import { fieldsFrom, type Texts } from '../state/entry-draft.js';
import { useRoom } from '../state/room.js';
import { useWriter } from '../state/writing.js';
import { EntryFields } from './entry-fields.js';
import { Said } from './said.js';

type Kind = 'run-spawner' | 'run-eggs' | 'run-end';
const PARTS: readonly (readonly [Kind, string, string])[] = [
  ['run-spawner', 'Who spawned', 'Write the spawner'],
  ['run-eggs', 'Eggs', 'Write the eggs'],
  ['run-end', 'End of the run', 'End the run'],
];

/** What there is to write beside the phases. */
export const RunWriting = ({ run }: { readonly run: SpawningRun }) => (
  <>
    {PARTS.map(([kind, title, button]) => (
      <RunForm key={kind} run={run} kind={kind} title={title} button={button} />
    ))}
  </>
);

type FormProps = { readonly run: SpawningRun; readonly kind: Kind; readonly title: string; readonly button: string };

const RunForm = ({ run, kind, title, button }: FormProps) => {
  const room = useRoom();
  const texts = useMemo(() => signal<Texts>({}), []);
  const { state, faults, write } = useWriter();
  const { shape } = ENTRY_KINDS[kind];
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const typed = fieldsFrom(shape, texts.value, room.reader.value) as object | undefined;
    if (await write({ kind, placeId: run.placeId, fields: { ...typed, runId: run.id } })) texts.value = {};
  };
  if (shape.kind !== 'fields') return null;
  return (
    <details class="entry-more">
      <summary>{title}</summary>
      <form onSubmit={(event) => void send(event)}>
        <div class="form-grid">
          <EntryFields shape={shape} texts={texts} faults={faults} without={['runId']} />
        </div>
        <Said state={state.value} />
        <button type="submit" class="night-button" disabled={state.value.kind === 'sending'}>
          {button}
        </button>
      </form>
    </details>
  );
};
