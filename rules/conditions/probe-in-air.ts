import type { WorkKind } from '../work.js';
import type { Condition } from './condition.js';

/** Work during which a dry probe is no surprise. */
const DRIES: ReadonlySet<WorkKind> = new Set<WorkKind>([
  'drain-down',
  'water-change',
  'filling',
  'probe-service',
  'bed-cleaning',
  'disinfection',
  'spawning-run',
  'resting',
]);

/** Probe out of the water, or the tank drained, and nobody said so. A stuck fresh-water valve looks the same. */
export const PROBE_IN_AIR: Condition = {
  code: 'probe-in-air',
  scope: 'place',
  standsAt: ({ place }) => place.kind === 'tank',
  timing: () => ({ onDelayMs: 120_000, offDelayMs: 0 }),
  judge: ({ placeNow, work }) => {
    const raw = placeNow.wet === 'dry' && !work.some(({ kind }) => DRIES.has(kind));
    return raw
      ? { raw, finding: { priority: 'medium', checks: ['heater-off-at-wall', 'look-at-tank', 'probe-back'] } }
      : { raw };
  },
};
