import { forecastThinning } from '../bed/forecast.js';
import { bedNow } from './bed-sight.js';
import type { Condition, Sight } from './condition.js';
import type { Harm } from './finding.js';
import { isWorkingHour } from './hour.js';

const HOUR_MS = 3_600_000;
/** Told so long before: a day to plan it, and a day to do it. Common practice, no source. */
const AHEAD_H = 48;

/** Stirring up a bed just before spawning costs the run: then it is not advised. */
const isBeforeSpawning = ({ place: { stage }, work }: Sight): boolean =>
  stage === 'ripe' || stage === 'spawning' || work.some(({ kind }) => kind === 'spawning-run');

const cleanBy = (sight: Sight): Harm | undefined => {
  const now = bedNow(sight);
  const limitDepthMm = sight.place.bed?.limitDepthMm;
  if (now === undefined || limitDepthMm === undefined) return undefined;
  const forecast = forecastThinning({ ...now, limitDepthMm, course: { kind: 'steady' } });
  // Without a look at the layer there is no likely time, and so nothing to plan by.
  if (!forecast.ok || forecast.value.kind !== 'calibrated') return undefined;
  const { soonest, likely, latest } = forecast.value;
  if (likely.kind !== 'reaches' || likely.first !== 'load') return undefined;
  const clock = (hours: number): number => Math.round(sight.nowMs + hours * HOUR_MS);
  return {
    atMs: clock(likely.hours),
    earliestMs: clock(soonest.kind === 'reaches' ? soonest.hours : 0),
    ...(latest.kind === 'reaches' ? { latestMs: clock(latest.hours) } : {}),
    basis: [],
  };
};

/** The bed will be foul in a day or two by the waste that comes to lie on it: "clean the bed by". By day only. */
export const CLEAN_BED_BY: Condition = {
  code: 'clean-bed-by',
  scope: 'place',
  everyMs: 30 * 60_000,
  standsAt: ({ place }) => place.bed?.limitDepthMm !== undefined && place.stage !== 'empty',
  timing: () => ({ onDelayMs: 0, offDelayMs: 0 }),
  judge: (sight, before) => {
    if (isBeforeSpawning(sight)) return { raw: false };
    if (!isWorkingHour(sight.nowMs, sight.view.site.zone)) return { raw: before.on ? undefined : false };
    const harm = cleanBy(sight);
    if (harm === undefined || harm.atMs - sight.nowMs > AHEAD_H * HOUR_MS) return { raw: false };
    return { raw: true, finding: { priority: 'low', harm, checks: ['clean-bed', 'flow-running'] } };
  },
};
