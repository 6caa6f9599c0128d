import type { WaterOver } from '../bed/over.js';
import type { Quantity } from '../quantity.js';
import { channelPicture } from './picture.js';
import type { EngineState } from './state.js';

const UNSEEN: ReadonlySet<string> = new Set(['silent', 'not-plausible', 'out-of-water']);
/** A flow probe trembles about zero, L/min. */
const STANDING_L_MIN = 0.05;

/** The water over the bed of a place as it is measured now; undefined where any part of it is not. */
export const waterOverBed = (state: EngineState, placeId: string): WaterOver | undefined => {
  const seen = (quantity: Quantity, position?: string): number | undefined => {
    const index = state.plan.channels.findIndex((channel) => {
      const place = state.plan.places[channel.place];
      return place?.place.id === placeId && channel.quantity === quantity && channel.position === position;
    });
    if (index < 0) return undefined;
    const { value, state: is } = channelPicture(state, index);
    return UNSEEN.has(is) ? undefined : value;
  };
  const [oxygenMgL, temperatureC, salinity] = [seen('oxygen-mg-l'), seen('temperature'), seen('salinity')];
  if (oxygenMgL === undefined || temperatureC === undefined || salinity === undefined) return undefined;
  const flow = seen('flow', 'bed');
  return {
    atMs: state.nowMs,
    oxygenMgL,
    temperatureC,
    salinity,
    pressureKpa: state.plan.pressureKpa,
    ...(flow === undefined ? {} : { pumped: flow > STANDING_L_MIN }),
  };
};
