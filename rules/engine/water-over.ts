import type { WaterOver } from '../bed/over.js';
import { isPumping } from '../conditions/bed-sight.js';
import { isLive } from '../conditions/trend.js';
import type { Quantity } from '../quantity.js';
import type { ChannelNow } from './now.js';
import { channelPicture } from './picture.js';
import type { EngineState } from './state.js';

const UNSEEN: ReadonlySet<string> = new Set(['silent', 'not-plausible', 'out-of-water']);

/** The water over the bed of a place as it is measured now; undefined where any part of it is not. */
export const waterOverBed = (state: EngineState, placeId: string): WaterOver | undefined => {
  const seen = (quantity: Quantity, position?: string): ChannelNow | undefined => {
    const index = state.plan.channels.findIndex((channel) => {
      const place = state.plan.places[channel.place];
      return place?.place.id === placeId && channel.quantity === quantity && channel.position === position;
    });
    return index < 0 || UNSEEN.has(channelPicture(state, index).state) ? undefined : state.channels[index];
  };
  const [oxygenMgL, temperatureC, salinity] = (['oxygen-mg-l', 'temperature', 'salinity'] as const).map(
    (quantity) => seen(quantity)?.value,
  );
  if (oxygenMgL === undefined || temperatureC === undefined || salinity === undefined) return undefined;
  const flow = seen('flow', 'bed');
  return {
    atMs: state.nowMs,
    oxygenMgL,
    temperatureC,
    salinity,
    pressureKpa: state.plan.pressureKpa,
    ...(isLive(flow, state.nowMs) ? { pumped: isPumping(flow, state.nowMs) } : {}),
  };
};
