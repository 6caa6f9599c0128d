import { useSignal } from '@preact/signals';
import { wallMs, wallText } from '../../rules/words/clock.js';
import { waking } from '../link/waking.js';
import { useRoom } from '../state/room.js';
import { Choice, Field } from './field.js';
import { MomentField } from './moment-field.js';
import { WakingForm } from './waking-form.js';

/** Harm that nobody was woken for: written down, so that the season's figure is honest. */
export const MissedHarm = ({ done }: { readonly done: () => void }) => {
  const room = useRoom();
  const { zone } = room.reader.value;
  const tanks = (room.picture.value?.places ?? []).filter(({ kind }) => kind === 'tank');
  const open = useSignal(false);
  const tank = useSignal('');
  const when = useSignal(wallText(room.nowMs.peek(), zone));
  const remark = useSignal('');
  const said = useSignal<string | undefined>(undefined);
  const write = async (): Promise<void> => {
    const placeId = tank.value === '' ? tanks[0]?.id : tank.value;
    const atMs = wallMs(when.value, zone);
    if (placeId === undefined || atMs === undefined || remark.value.trim() === '') {
      said.value = 'Choose the tank and the moment, and write what happened.';
      return;
    }
    const asked = await waking.missed(placeId, remark.value.trim(), atMs);
    said.value = asked.ok ? undefined : asked.fault.detail;
    if (!asked.ok) return;
    open.value = false;
    remark.value = '';
    done();
  };
  if (!open.value)
    return (
      <button type="button" class="pill pill-quiet" onClick={() => (open.value = true)}>
        Harm came, and nobody was woken
      </button>
    );
  return (
    <WakingForm
      send={() => void write()}
      said={said.value}
      buttons={
        <div class="pill-row">
          <button type="submit" class="pill pill-first">
            Write it down
          </button>
          <button type="button" class="pill" onClick={() => (open.value = false)}>
            Leave it
          </button>
        </div>
      }
    >
      <div class="form-grid">
        <Choice label="Tank" value={tank} choices={tanks.map(({ id, name }) => [id, name] as const)} />
        <MomentField label="When" value={when} />
        <Field label="What happened" value={remark} />
      </div>
    </WakingForm>
  );
};
