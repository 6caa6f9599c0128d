import { useSignal } from '@preact/signals';
import type { Place } from '../../rules/place.js';
import type { Versioned } from '../../rules/wire/api.js';
import { useApi } from '../state/gateway.js';

type TakeOutProps = { readonly place: Versioned<Place>; readonly onDone: () => void };

/** Taking a place out, with a second press; what still is in it or hangs on it is said instead. */
export const TakeOut = ({ place, onDone }: TakeOutProps) => {
  const api = useApi();
  const isAsked = useSignal(false);
  const said = useSignal<string | undefined>(undefined);
  const takeOut = async (): Promise<void> => {
    const asked = await api.removePlace(place.body.id, place.version);
    if (asked.ok) return onDone();
    isAsked.value = false;
    said.value = asked.fault.detail;
  };
  if (!isAsked.value)
    return (
      <>
        <button type="button" class="pill pill-quiet take-out" onClick={() => (isAsked.value = true)}>
          Take {place.body.name} out
        </button>
        <p class="form-said" role="status">
          {said.value}
        </p>
      </>
    );
  return (
    <section class="take-out">
      <p class="field-said">
        {place.body.name} leaves the wall and is watched no more; its probes wait for a new name. Everything that was
        read and written of it stays.
      </p>
      <div class="buttons">
        <button type="button" class="night-button" onClick={() => void takeOut()}>
          Yes, take {place.body.name} out
        </button>
        <button type="button" class="night-button" onClick={() => (isAsked.value = false)}>
          No
        </button>
      </div>
    </section>
  );
};
