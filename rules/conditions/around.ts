import type { EvidenceCode } from '../words/evidence.js';
import type { Sight } from './condition.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

/** Room, or inflow where water runs through: what the tank drifts towards. */
export const aroundOf = ({
  place,
  view,
  nowMs,
}: Sight): { readonly value: number; readonly fact: EvidenceCode } | undefined => {
  const flows = place.regime === 'flow-through';
  const channel = channelAt(view.spotOf(flows ? place.lineId : place.roomId), 'temperature');
  if (channel === undefined || !isLive(channel.now, nowMs)) return undefined;
  return { value: channel.now.value, fact: flows ? 'intake-agrees' : 'room-agrees' };
};
