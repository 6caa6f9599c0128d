import type { Lack } from '../../rules/alerts/lack.js';
import { lackWords } from '../../rules/words/lack.js';
import { waking } from '../link/waking.js';
import { useAsked } from '../state/asked.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

const EACH_MS = 60_000;

/** Nobody would come, or nobody outside would notice: that belongs beside the calmest room. */
const TOLD: readonly Lack['kind'][] = ['no-people', 'nobody-on-call', 'check-in-fails', 'way-fails'];
const SOON_MS = 24 * 3_600_000;

const isNear = (lack: Lack, nowMs: number): boolean => lack.kind !== 'nobody-on-call' || lack.fromMs - nowMs < SOON_MS;

/** One line where the watch itself is at fault, by today; nothing otherwise. */
export const WatchWarning = () => {
  const room = useRoom();
  const nowMs = room.nowMs.value;
  const { value } = useAsked(waking.watchNow, String(Math.floor(nowMs / EACH_MS))).answer;
  const [first] =
    value.kind === 'here' ? value.value.lacks.filter((lack) => TOLD.includes(lack.kind) && isNear(lack, nowMs)) : [];
  if (first === undefined) return null;
  return (
    <p class="watch-warning" role="alert">
      <a href={makeRoute({ page: 'watch' })}>{lackWords(first, nowMs, room.reader.value)}</a>
    </p>
  );
};
