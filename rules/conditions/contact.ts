import { type Contact, usualContact } from '../contact.js';
import type { Before, Sight } from './condition.js';
import type { Priority } from './finding.js';
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

/** Mains and blowers that come back by themselves within this time wake nobody. Common practice, no source. */
export const FLICKER_MS = 2 * 60_000;

/** For the wall until it has lasted longer than a flicker, then what it is. */
export const oncePast = (
  { atMs, nowMs }: Pick<Sight, 'atMs' | 'nowMs'>,
  before: Pick<Before, 'raw' | 'rawMs'>,
  priority: Priority,
): { readonly priority: Priority; readonly againAtMs?: number } => {
  const dueMs = (before.raw ? before.rawMs : atMs) + FLICKER_MS;
  return nowMs >= dueMs ? { priority } : { priority: 'low', againAtMs: dueMs };
};
