import type { WriteState } from '../state/writing.js';
import { TakeBack } from './take-back.js';

/** What became of what was just written; while it can still be taken back, how. */
export const Said = ({ state }: { readonly state: WriteState }) => {
  switch (state.kind) {
    case 'open':
      return null;
    case 'sending':
      return (
        <p class="form-said" role="status">
          Sending …
        </p>
      );
    case 'refused':
      return (
        <p class="form-said form-said-wrong" role="alert">
          {state.detail}
        </p>
      );
    case 'waiting':
      return (
        <p class="form-said" role="status">
          Kept on this device. It is sent by itself when the connection is back.
        </p>
      );
    case 'kept':
      return (
        <p class="form-said" role="status">
          Written. <TakeBack entryId={state.entryId} />
        </p>
      );
  }
};
