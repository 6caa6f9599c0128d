import { type Contact, usualContact } from '../contact.js';
import { isLive } from './trend.js';
import { channelAt, type Spot } from './view.js';

/**
 * The state of a switch now: heater draws current, air or mains there, float up, floor wet. Undefined where there is
 * none, or where it is not heard.
 */
export const contactAt = (spot: Spot | undefined, contact: Contact, nowMs: number): boolean | undefined => {
  const usual = spot !== undefined && usualContact(spot.place.kind) === contact;
  const channel = channelAt(spot, 'contact', contact) ?? (usual ? channelAt(spot, 'contact') : undefined);
  return channel === undefined || !isLive(channel.now, nowMs) ? undefined : channel.now.value !== 0;
};
