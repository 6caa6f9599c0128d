import { bedUnder } from '../bed/over.js';
import { type BedNow, oxygenPenetration, type Penetration } from '../bed/penetration.js';
import type { ChannelNow } from '../engine/now.js';
import type { Sight } from './condition.js';
import { heldLevel } from './habit.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

/** Of its usual flow; a flow probe trembles about zero. Common practice, no source. */
const STANDING_SHARE = 0.15;

/** Whether a flow probe in the bed says that its pump runs. For a channel that is live. */
export const isPumping = (now: ChannelNow & { readonly value: number }, nowMs: number): boolean => {
  const usual = heldLevel(now, nowMs);
  return now.value > (usual === undefined ? 0 : STANDING_SHARE * usual);
};

/** Whether water is pumped through the bed: by its own flow probe; undefined where none says it. */
export const isBedPumped = ({ view, place, nowMs }: Sight): boolean | undefined => {
  const channel = channelAt(view.spotOf(place.id), 'flow', 'bed');
  return channel === undefined || !isLive(channel.now, nowMs) ? undefined : isPumping(channel.now, nowMs);
};

/** The bed and the water over it now; undefined where a reading is missing, or nothing is known of a bed. */
export const bedNow = (sight: Sight): BedNow | undefined => {
  const { place, nowMs, view } = sight;
  const [oxygen, temperature, salinity] = [
    sight.beside('oxygen-mg-l'),
    sight.beside('temperature'),
    sight.beside('salinity'),
  ];
  if (place.bed === undefined) return undefined;
  if (!isLive(oxygen, nowMs) || !isLive(temperature, nowMs) || !isLive(salinity, nowMs)) return undefined;
  return bedUnder(
    { bed: place.bed, aerated: place.aerated },
    {
      atMs: nowMs,
      oxygenMgL: oxygen.value,
      temperatureC: temperature.value,
      salinity: salinity.value,
      pressureKpa: view.pressureKpa,
      pumped: isBedPumped(sight),
    },
  );
};

export const penetrationOf = (now: BedNow | undefined): Penetration | undefined => {
  const answer = now === undefined ? undefined : oxygenPenetration(now);
  return answer?.ok === true ? answer.value : undefined;
};
