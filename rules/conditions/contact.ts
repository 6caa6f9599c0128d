import { isLive } from './trend.js';
import { channelAt, type Spot } from './view.js';

/** What a switch can tell. The name of its position says which; without one, a place has its usual switch. */
export const CONTACTS = ['heater-current', 'air-pressure', 'mains', 'float', 'wet-floor'] as const;
export type Contact = (typeof CONTACTS)[number];

const USUAL: { readonly [kind: string]: Contact } = {
  tank: 'heater-current',
  bath: 'heater-current',
  'air-main': 'air-pressure',
  circuit: 'mains',
  room: 'wet-floor',
};

/**
 * The state of a switch now: heater draws current, air or mains there, float up, floor wet. Undefined where there is
 * none, or where it is not heard.
 */
export const contactAt = (spot: Spot | undefined, contact: Contact, nowMs: number): boolean | undefined => {
  const usual = spot !== undefined && USUAL[spot.place.kind] === contact;
  const channel = channelAt(spot, 'contact', contact) ?? (usual ? channelAt(spot, 'contact') : undefined);
  return channel === undefined || !isLive(channel.now, nowMs) ? undefined : channel.now.value !== 0;
};
