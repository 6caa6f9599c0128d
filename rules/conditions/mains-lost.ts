import type { Condition } from './condition.js';
import { contactAt, oncePast } from './contact.js';
import { holdsAnimals } from './tolerance.js';

/**
 * The switch on a power circuit says that it is dead: air, heat, pumps and lights of everything on it. A flicker is for
 * the wall.
 */
export const MAINS_LOST: Condition = {
  code: 'mains-lost',
  scope: 'place',
  everyMs: 30_000,
  atReadings: true,
  standsAt: ({ place }) => place.kind === 'circuit',
  timing: () => ({ onDelayMs: 5_000, offDelayMs: 30_000 }),
  judge: (sight, before) => {
    const { place, view, nowMs } = sight;
    const contact = contactAt(view.spotOf(place.id), 'mains', nowMs);
    if (contact === undefined) return { raw: before.on ? undefined : false };
    const tanks = view.sharing(place.id).filter((spot) => spot.place.kind === 'tank' && holdsAnimals(spot.place));
    if (contact)
      // When it is back, the list of what may not be: the alarm stays until somebody has read it.
      return before.on
        ? {
            raw: false,
            finding: {
              priority: before.finding?.priority ?? 'high',
              evidence: ['back-again'],
              checks: ['after-cut', 'set-clock'],
            },
          }
        : { raw: false };
    const { priority, ...look } = oncePast(sight, before, 'high');
    return {
      raw: true,
      ...look,
      finding: {
        priority,
        evidence: ['contact-says-so'],
        places: tanks.map((spot) => spot.place.id),
        ofPlaces: tanks.length,
        checks: ['mains-and-standby', 'spare-air', 'air-running', 'look-at-tank'],
      },
    };
  },
};
