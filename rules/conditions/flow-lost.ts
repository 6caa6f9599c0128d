import { shortOfOxygen } from './checks.js';
import type { Condition, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { heldLevel } from './habit.js';
import { wantsStillWater } from './tolerance.js';
import { isLive } from './trend.js';

const MINUTE_MS = 60_000;

/** Less than this share of what runs otherwise is no flow. Common practice, no source. */
const LOST_SHARE = 0.15;
const BACK_SHARE = 0.4;
const AFTER_FEEDING_MS = 3 * 60 * MINUTE_MS;

/** Seed in a bed stands in its own water within the hour; adults in open water have hours. Common practice, no source. */
const priorityOf = ({ place: { stage, kind } }: Sight): Priority => {
  if (stage === 'nursery' || stage === 'post-set') return 'high';
  return kind === 'tank' ? 'medium' : 'low';
};

const usualLMin = ({ place, channel, nowMs }: Sight): number | undefined =>
  place.flowLMin ?? (channel === undefined ? undefined : heldLevel(channel, nowMs));

const wasFedLately = ({ view, place, nowMs }: Sight): boolean =>
  view.work.some(
    ({ kind, placeId, fromMs, untilMs, endedMs }) =>
      kind === 'feeding-flow-off' &&
      placeId === place.id &&
      fromMs <= nowMs &&
      nowMs - Math.min(untilMs, endedMs ?? untilMs) <= AFTER_FEEDING_MS,
  );

/** Next to nothing flows where something should: a valve, a pump, a header, or a feeding that nobody ended. */
export const FLOW_LOST: Condition = {
  code: 'flow-lost',
  scope: 'channel',
  atReadings: true,
  standsAt: ({ place, quantity, position }) =>
    quantity === 'flow' &&
    position === undefined &&
    (place.kind === 'tank' || place.kind === 'line') &&
    place.stage !== 'empty',
  timing: () => ({ onDelayMs: 2 * MINUTE_MS, offDelayMs: MINUTE_MS }),
  judge: (sight, before) => {
    const { channel, place, nowMs } = sight;
    const usual = usualLMin(sight);
    if (!isLive(channel, nowMs) || usual === undefined || usual <= 0) return { raw: before.on ? undefined : false };
    const raw = channel.value < (before.raw ? BACK_SHARE : LOST_SHARE) * usual;
    if (!raw || wantsStillWater(place, nowMs)) return { raw: false };
    return {
      raw,
      finding: {
        priority: priorityOf(sight),
        value: channel.value,
        evidence: wasFedLately(sight) ? ['off-after-feeding'] : [],
        checks: ['flow-running', 'header-level', ...shortOfOxygen(place).filter((code) => code !== 'flow-running')],
      },
    };
  },
};
