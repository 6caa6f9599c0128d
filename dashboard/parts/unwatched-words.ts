import { wakesNobody } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { useSteady } from '../state/steady.js';

/** `2 channels not watched`, or `2 not watched` for a narrow place: what would wake nobody; empty when there is none. */
export const useUnwatchedWords = (narrow: boolean): string => {
  const room = useRoom();
  return useSteady(() => {
    const count = (room.picture.value?.channels ?? []).filter(wakesNobody).length;
    if (count === 0) return '';
    return narrow ? `${count} not watched` : `${count} ${count === 1 ? 'channel' : 'channels'} not watched`;
  }, [room, narrow]);
};
