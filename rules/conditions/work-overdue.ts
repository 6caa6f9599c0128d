import { type DeclaredWork, isLeftOpen } from '../work.js';
import type { Condition, Sight } from './condition.js';
import { declineOf } from './oxygen-decline.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

/** Of the usual flow, where work shuts it. */
const FLOWS_SHARE = 0.3;

const isFlowing = ({ place, nowMs, ...sight }: Sight): boolean => {
  const flow = sight.beside('flow');
  return isLive(flow, nowMs) && flow.value > FLOWS_SHARE * (place.flowLMin ?? 0);
};

/** Without a flow probe: oxygen inside its target and not falling, half an hour after the flow should have been back. */
const BREATHING_MS = 30 * 60_000;

const isBreathing = ({ view, place, nowMs }: Sight, untilMs: number): boolean => {
  const oxygen = channelAt(view.spotOf(place.id), 'oxygen-mg-l');
  if (oxygen === undefined || !isLive(oxygen.now, nowMs) || nowMs - untilMs < BREATHING_MS) return false;
  const isInside = oxygen.now.value >= (oxygen.wants?.targetLow ?? oxygen.wants?.limitLow ?? 0);
  return isInside && declineOf(oxygen.now, nowMs) === undefined;
};

/**
 * Whether the probes show that the tank is as it should be again, so that only the tap was forgotten: wet and heard, and
 * with its flow back where the work had shut it. What cannot be seen is not well.
 */
const isSeenWell = (sight: Sight, { kind, untilMs }: DeclaredWork): boolean => {
  const { placeNow, place, nowMs } = sight;
  const isHeard = isLive(sight.beside('temperature'), nowMs) || isLive(sight.beside('oxygen-mg-l'), nowMs);
  if (placeNow.wet !== 'wet' || !isHeard) return false;
  return kind !== 'feeding-flow-off' || place.regime === 'static' || isFlowing(sight) || isBreathing(sight, untilMs);
};

/** The tap is a moment late more often than the work: the wall first, and a person when the tank is not seen well. */
const SEEN_MS = 31 * 60_000;

/**
 * Declared work over its time: its rules stand again, and it rings until somebody says that it is done, or gives it
 * more time. Where the tank is seen to be well only the tap was forgotten, and that wakes nobody. One alarm a place; the
 * work longest over is told.
 */
export const WORK_OVERDUE: Condition = {
  code: 'work-overdue',
  scope: 'place',
  everyMs: 60_000,
  standsAt: () => true,
  timing: () => ({ onDelayMs: 0, offDelayMs: 0 }),
  judge: (sight) => {
    const { work, nowMs } = sight;
    const open = work.filter((declared) => isLeftOpen(declared, nowMs)).sort((a, b) => a.untilMs - b.untilMs)[0];
    if (open === undefined) {
      const next = work.reduce((least, { untilMs }) => Math.min(least, untilMs), Number.POSITIVE_INFINITY);
      return Number.isFinite(next) ? { raw: false, againAtMs: next } : { raw: false };
    }
    // Nobody waits half an hour for somebody who may lie on the floor.
    if (open.kind === 'alone')
      return { raw: true, finding: { priority: 'high', work: open.kind, checks: ['look-for-person'] } };
    const callsMs = open.untilMs + SEEN_MS;
    const priority = nowMs < callsMs || isSeenWell(sight, open) ? 'low' : 'medium';
    return {
      raw: true,
      againAtMs: callsMs,
      finding: { priority, work: open.kind, checks: ['work-finished', 'look-at-tank'] },
    };
  },
};
