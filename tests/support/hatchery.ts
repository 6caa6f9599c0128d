import type { Hatchery, Mapping } from '../../rules/hatchery.js';
import type { Place } from '../../rules/place.js';

/** An invented site, small enough to hold in one's head: one line, tanks with three probes each. */
export const NOON_MS = Date.UTC(2026, 4, 4, 12, 0, 0);

export const tank = (id: string, more: Partial<Place> = {}): Place => ({
  id,
  kind: 'tank',
  name: id.toUpperCase(),
  order: 0,
  lineId: 'larval-line',
  regime: 'static',
  stage: 'larva',
  stageSinceMs: NOON_MS - 5 * 86_400_000,
  speciesGroup: 'warm-temperate-burrowing-clam',
  volumeL: 200,
  ...more,
});

const PROBES = [
  ['temperature', 'degC'],
  ['conductivity', 'mS/cm'],
  ['oxygen-mg-l', 'mg/L'],
] as const;

/** Sources are numbered tank by tank: 10 × tank + 1 temperature, + 2 conductivity, + 3 oxygen. */
export const mappingsOf = (tanks: readonly Place[], periodMs = 10_000): Mapping[] =>
  tanks.flatMap(({ id }, index) =>
    PROBES.map(([quantity, unit], probe) => ({
      sourceId: 10 * (index + 1) + probe + 1,
      channelId: `${id}.${quantity}`,
      unit,
      fromMs: 0,
      ruling: true,
      periodMs,
    })),
  );

export const hatchery = (
  tanks: readonly Place[] = [tank('l1'), tank('l2', { order: 1 })],
  more: Partial<Hatchery> = {},
): Hatchery => ({
  site: { id: 'wrack-cove-test', name: 'Wrack Cove', zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 },
  places: [{ id: 'larval-line', kind: 'line', name: 'Larval line', order: 0 }, ...tanks],
  mappings: mappingsOf(tanks),
  calibrations: [],
  ...more,
});
