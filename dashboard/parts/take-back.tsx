import { useSignal } from '@preact/signals';
import { useOutbox } from '../state/live-outbox.js';
import { newUlid } from '../state/outbox.js';
import { useRoom } from '../state/room.js';

/** Takes an entry back by a further entry: the first stays readable, and counts no more. */
export const TakeBack = ({ entryId, onDone }: { readonly entryId: string; readonly onDone?: () => void }) => {
  const room = useRoom();
  const outbox = useOutbox();
  const said = useSignal<string | undefined>(undefined);
  const strike = async (): Promise<void> => {
    const atMs = Math.round(room.nowMs.value);
    const fields = { why: 'taken back by its writer' };
    const sent = await outbox.write({ id: newUlid(atMs), atMs, kind: 'struck', corrects: entryId, fields });
    said.value = sent.kind === 'refused' ? sent.problem.detail : 'Taken back.';
    if (sent.kind !== 'refused') onDone?.();
  };
  if (said.value !== undefined) return <span>{said.value}</span>;
  return (
    <button type="button" class="plain edit-word" onClick={() => void strike()}>
      Take it back
    </button>
  );
};
