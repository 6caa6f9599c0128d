import type { EvidenceCode } from '../words/evidence.js';
import type { Condition, Sight } from './condition.js';
import { contactAt } from './contact.js';
import { heldLevel } from './habit.js';
import { emptyingFacts, emptyingPriority } from './probe-in-air.js';
import { grainOf, hasMoved, isLive, trendOf } from './trend.js';
import { channelAt } from './view.js';

const MINUTE_MS = 60_000;
const SPAN_MS = 15 * MINUTE_MS;
/** Below what the tank holds by this much, and still going: evaporation takes a day for that. Common practice, no source. */
const FALL_M = 0.04;
const FALL_SHARE = 0.1;

/** Metres below its usual level; undefined when it does not fall, or nobody can tell. */
const fallen = ({ view, place, nowMs }: Sight, wasRaw: boolean): number | undefined => {
  const channel = channelAt(view.spotOf(place.id), 'level');
  if (channel === undefined || !isLive(channel.now, nowMs)) return undefined;
  const usual = heldLevel(channel.now, nowMs) ?? place.depthM;
  if (usual === undefined) return undefined;
  const below = usual - channel.now.value;
  if (below < Math.min(FALL_M, FALL_SHARE * usual)) return 0;
  if (wasRaw) return below;
  if (!hasMoved(channel.now, nowMs, SPAN_MS, FALL_M / 2)) return 0;
  const trend = trendOf(channel.now, nowMs, SPAN_MS, grainOf('level'));
  return trend !== undefined && trend.high < 0 ? below : 0;
};

/** The water goes down, by its level or its float, and nobody declared it: a leak, a standpipe, the wrong drain. */
export const LEVEL_FALLING: Condition = {
  code: 'level-falling',
  scope: 'place',
  everyMs: 30_000,
  standsAt: ({ place }) => place.kind === 'tank' || place.kind === 'line' || place.kind === 'bath',
  timing: () => ({ onDelayMs: MINUTE_MS, offDelayMs: 2 * MINUTE_MS }),
  judge: (sight, before) => {
    const { view, place, nowMs } = sight;
    const float = contactAt(view.spotOf(place.id), 'float', nowMs);
    const below = fallen(sight, before.raw);
    if (float === undefined && below === undefined) return { raw: before.on ? undefined : false };
    if (float !== false && (below === undefined || below === 0)) return { raw: false };
    const { priority, againAtMs } = emptyingPriority(sight, before.raw ? before.rawMs : nowMs);
    const facts: readonly EvidenceCode[] = [
      ...(float === false ? (['float-low'] as const) : []),
      ...emptyingFacts(sight),
    ];
    const wrong = facts.includes('wrong-tank') ? (['wrong-tank'] as const) : [];
    return {
      raw: true,
      ...(againAtMs === undefined ? {} : { againAtMs }),
      finding: {
        priority: place.kind === 'tank' ? priority : 'medium',
        evidence: facts,
        checks: [
          'heater-off-at-wall',
          ...wrong,
          'leak-or-standpipe',
          place.kind === 'line' ? 'header-level' : 'look-at-tank',
        ],
      },
    };
  },
};
