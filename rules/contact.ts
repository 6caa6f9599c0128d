import type { PlaceKind } from './place.js';

/** What a switch can tell. The name of its position says which; without one, a place has its usual switch. */
export const CONTACTS = ['heater-current', 'air-pressure', 'mains', 'float', 'wet-floor'] as const;
export type Contact = (typeof CONTACTS)[number];

const USUAL: { readonly [kind in PlaceKind]?: Contact } = {
  tank: 'heater-current',
  bath: 'heater-current',
  'air-main': 'air-pressure',
  circuit: 'mains',
  room: 'wet-floor',
};

export const usualContact = (kind: PlaceKind): Contact | undefined => USUAL[kind];

/** Which of them a switch is; undefined when neither its position nor its place says so. */
export const contactOf = (kind: PlaceKind, position: string | undefined): Contact | undefined =>
  position === undefined ? usualContact(kind) : CONTACTS.find((contact) => contact === position);
