import { upkeepEveryH } from '../stage/upkeep.js';
import { TASKS, type Task } from '../work.js';
import type { Condition, Sight } from './condition.js';
import { isWorkingHour } from './hour.js';
import { holdsAnimals } from './tolerance.js';

const HOUR_MS = 3_600_000;

/** Work is called overdue this share of its interval late: a change due at eight is not late at nine. No source. */
const GRACE = 0.25;

/**
 * When it was last done: as the log says, or as it was declared and ended. When these animals came counts beside those;
 * alone only where the hatchery set the interval itself, so that a gateway without a log calls nothing overdue.
 */
const lastMs = ({ place, placeNow, view }: Sight, task: Task): number | undefined => {
  const declared = view.work
    .filter(({ placeId, kind, endedMs }) => placeId === place.id && kind === task && endedMs !== undefined)
    .map(({ endedMs }) => endedMs ?? 0);
  const cleaned = task === 'bed-cleaning' ? place.bed?.cleanedAtMs : undefined;
  const done = [placeNow.done?.[task], cleaned, ...declared].filter((ms) => ms !== undefined);
  if (done.length === 0 && place.upkeepH?.[task] === undefined) return undefined;
  const known = place.stageSinceMs === undefined ? done : [...done, place.stageSinceMs];
  return known.length === 0 ? undefined : Math.max(...known);
};

type Due = { readonly task: Task; readonly overMs: number };

const mostOverdue = (sight: Sight): Due | undefined =>
  TASKS.flatMap((task): readonly Due[] => {
    const [every, last] = [upkeepEveryH(sight.place, task), lastMs(sight, task)];
    if (every === undefined || last === undefined) return [];
    const overMs = sight.nowMs - last - every * HOUR_MS;
    return overMs > GRACE * every * HOUR_MS ? [{ task, overMs }] : [];
  }).sort((a, b) => b.overMs - a.overMs)[0];

/** Work that comes back and was not done: by day only, and never a reason to wake anybody. */
export const UPKEEP_OVERDUE: Condition = {
  code: 'upkeep-overdue',
  scope: 'place',
  everyMs: 10 * 60_000,
  standsAt: ({ place }) => place.kind === 'tank',
  timing: () => ({ onDelayMs: 0, offDelayMs: 0 }),
  judge: (sight, before) => {
    if (!holdsAnimals(sight.place)) return { raw: false };
    const due = mostOverdue(sight);
    if (due === undefined) return { raw: false };
    if (!isWorkingHour(sight.nowMs, sight.view.site.zone)) return { raw: before.on ? undefined : false };
    return { raw: true, finding: { priority: 'low', task: due.task, checks: ['do-or-log'] } };
  },
};
