import { BED_DEFAULTS } from '../bed/defaults.js';
import type { Penetration } from '../bed/penetration.js';
import type { EvidenceCode } from '../words/evidence.js';
import { bedNow, isBedPumped, penetrationOf } from './bed-sight.js';
import type { Condition, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

const MINUTE_MS = 60_000;

/** Redox in the bed below which sulfide is to be expected, mV, and oxygen in its water, mg/L. Common practice, no source. */
const REDUCED_MV = -100;
const PORE_MG_L = 1;

const inBed = ({ view, place, nowMs }: Sight, quantity: 'orp' | 'oxygen-mg-l'): number | undefined => {
  const channel = channelAt(view.spotOf(place.id), quantity, 'bed');
  return channel === undefined || !isLive(channel.now, nowMs) ? undefined : channel.now.value;
};

/** What probes in the bed and at its pump say: no model in it. */
const measured = (sight: Sight): readonly EvidenceCode[] => {
  const [orp, oxygen] = [inBed(sight, 'orp'), inBed(sight, 'oxygen-mg-l')];
  const isStopped = isBedPumped(sight) === false && (sight.place.bed?.throughFlowLM2H ?? 0) > 0;
  return [
    ...(orp !== undefined && orp < REDUCED_MV ? (['orp-low'] as const) : []),
    ...(oxygen !== undefined && oxygen < PORE_MG_L ? (['pore-oxygen-low'] as const) : []),
    ...(isStopped ? (['bed-pump-stopped'] as const) : []),
  ];
};

/**
 * The estimate, against the same bed when clean and against the depth that the hatchery set; never as a share of the
 * bed. Uncalibrated it is a fact beside the finding and no more than for the morning.
 */
const estimated = (layer: Penetration | undefined, { place }: Sight, wasRaw: boolean): readonly EvidenceCode[] => {
  if (layer === undefined) return [];
  const share = wasRaw ? BED_DEFAULTS.warnShareOfClean.value : BED_DEFAULTS.alarmShareOfClean.value;
  const limitMm = place.bed?.limitDepthMm;
  const isThinner = layer.kind === 'calibrated' && limitMm !== undefined && layer.depthMm.mid < limitMm;
  if (layer.shareOfClean >= share && !isThinner) return [];
  return layer.kind === 'calibrated' ? ['layer-thin'] : ['layer-thin', 'not-calibrated'];
};

const priorityOf = (facts: readonly EvidenceCode[], layer: Penetration | undefined): Priority =>
  facts.some((fact) => fact !== 'layer-thin' && fact !== 'not-calibrated') || layer?.kind === 'calibrated'
    ? 'medium'
    : 'low';

/**
 * Likely anoxia in the bed. On what is measured where there are probes in it or at its pump; else on the estimated
 * oxygenated depth, the least certain number there is.
 */
export const BED_ANOXIA: Condition = {
  code: 'bed-anoxia',
  scope: 'place',
  everyMs: 5 * MINUTE_MS,
  standsAt: ({ place }) => place.bed !== undefined && place.stage !== 'empty',
  timing: () => ({ onDelayMs: 15 * MINUTE_MS, offDelayMs: 30 * MINUTE_MS }),
  judge: (sight, before) => {
    if (sight.placeNow.wet === 'dry') return { raw: before.on ? undefined : false };
    const now = bedNow(sight);
    const layer = penetrationOf(now);
    const facts = [...measured(sight), ...estimated(layer, sight, before.raw)];
    if (facts.length === 0) return { raw: layer === undefined && before.on ? undefined : false };
    const pump = facts.includes('bed-pump-stopped') ? (['bed-pump'] as const) : [];
    return {
      raw: true,
      finding: {
        priority: priorityOf(facts, layer),
        evidence: facts,
        checks: [...pump, 'flow-running', 'bed-smell', 'hand-oxygen', 'clean-bed'],
      },
    };
  },
};
