import type { Person } from './person.js';

/** Somebody to telephone. `personId` is absent for the hatchery's emergency contact. */
export type ToCall = { readonly personId?: string; readonly name: string; readonly phone: string };

/** A person's own number, or the one that they are texted or rung at. */
export const phoneOf = ({ phone, ways }: Person): string | undefined =>
  phone ?? ways.find(({ way }) => way === 'ring')?.address ?? ways.find(({ way }) => way === 'text')?.address;

/** Whom somebody may telephone, in the order of calling; the emergency contact last. */
export const numbersInOrder = (
  order: readonly string[],
  people: readonly Person[],
  emergency?: { readonly name: string; readonly phone: string },
): readonly ToCall[] => [
  ...order.flatMap((personId) => {
    const person = people.find(({ id }) => id === personId);
    const phone = person === undefined ? undefined : phoneOf(person);
    return person === undefined || phone === undefined ? [] : [{ personId, name: person.name, phone }];
  }),
  ...(emergency === undefined ? [] : [emergency]),
];

/** The first who is not the caller. */
export const nextToCall = (numbers: readonly ToCall[], caller: string | undefined): ToCall | undefined =>
  numbers.find(({ personId }) => personId === undefined || personId !== caller);

/** [RFC 3966] a number as an address that a phone dials. */
export const telUrl = (phone: string): string => `tel:${phone.replaceAll(/[\s().-]/g, '')}`;
