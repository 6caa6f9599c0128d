import type { Site } from '../rules/hatchery.js';
import { isPlaceId, type OwnWants, type Place, type PlaceKind } from '../rules/place.js';
import { isQuantity } from '../rules/quantity.js';
import { isSpeciesGroupId, SPECIES_GROUPS } from '../rules/stage/profiles.js';
import { isZone } from '../rules/words/clock.js';
import { RETENTION } from './journal/retention.js';
import { didYouMean } from './nearest.js';

const SPECIES_GROUP_IDS = SPECIES_GROUPS.map(({ id }) => id);

/** What does not fit together in one place, where (RFC 6901), and how to mend it. */
export type PlaceFault = { readonly pointer: string; readonly detail: string };

const SUPPLIES = [
  ['lineId', ['line', 'intake'], 'supply line'],
  ['airMainId', ['air-main'], 'air main'],
  ['circuitId', ['circuit'], 'power circuit'],
  ['roomId', ['room'], 'room'],
] as const satisfies readonly (readonly [keyof Place, readonly PlaceKind[], string])[];

/** What a schema cannot see: references, the order of lines, names that are taken. Empty when all fits. */
export const placeFaults = (place: Place, others: readonly Place[]): readonly PlaceFault[] => [
  ...idFaults(place),
  ...nameFaults(place, others),
  ...supplyFaults(place, others),
  ...speciesFaults(place),
  ...wantsFaults('/wants', place.wants ?? {}),
  ...Object.entries(place.stageWants ?? {}).flatMap(([stage, wants]) =>
    wantsFaults(`/stageWants/${stage}`, wants ?? {}),
  ),
];

/** What a schema cannot see of a site. */
export const siteFaults = ({ zone, keepReadingsDays, keepHoursDays }: Omit<Site, 'id'>): readonly PlaceFault[] => [
  ...(isZone(zone)
    ? []
    : [
        {
          pointer: '/zone',
          detail: `“${zone}” is no time zone: write it by name, as in America/New_York or Europe/Lisbon.`,
        },
      ]),
  ...(keepHoursDays === undefined || keepHoursDays >= (keepReadingsDays ?? RETENTION.rawDays ?? 0)
    ? []
    : [{ pointer: '/keepHoursDays', detail: 'Hours are kept at least as long as the readings they are made of.' }]),
];

const wantsFaults = (pointer: string, wants: NonNullable<Place['wants']>): readonly PlaceFault[] =>
  Object.entries(wants).flatMap(([quantity, own]) =>
    isQuantity(quantity) && own !== undefined ? lineFaults(`${pointer}/${quantity}`, own) : [],
  );

const idFaults = ({ id }: Place): readonly PlaceFault[] =>
  isPlaceId(id)
    ? []
    : [
        {
          pointer: '/id',
          detail: `“${id}” cannot be an id: use up to 40 lower-case letters, digits and dashes, as in larva-2.`,
        },
      ];

const nameFaults = ({ name, kind }: Place, others: readonly Place[]): readonly PlaceFault[] => {
  const same = others.find((other) => other.kind === kind && other.name.toLowerCase() === name.toLowerCase());
  return same === undefined
    ? []
    : [{ pointer: '/name', detail: `The name “${name}” is taken by ${same.id}: people could not tell the two apart.` }];
};

const supplyFaults = (place: Place, others: readonly Place[]): readonly PlaceFault[] =>
  SUPPLIES.flatMap(([key, kinds, words]) => {
    const id = place[key];
    if (id === undefined) return [];
    const fitting = others
      .filter(({ kind }) => (kinds as readonly PlaceKind[]).includes(kind))
      .map((other) => other.id);
    if (fitting.includes(id)) return [];
    const other = others.find((each) => each.id === id);
    const detail =
      other === undefined
        ? `There is no ${words} “${id}”.${didYouMean(id, fitting)} Add it first, or leave this out.`
        : `“${id}” is no ${words}.`;
    return [{ pointer: `/${key}`, detail }];
  });

const speciesFaults = ({ speciesGroup }: Place): readonly PlaceFault[] =>
  speciesGroup === undefined || isSpeciesGroupId(speciesGroup)
    ? []
    : [
        {
          pointer: '/speciesGroup',
          detail: `“${speciesGroup}” is no species group.${didYouMean(speciesGroup, SPECIES_GROUP_IDS)} Known: ${SPECIES_GROUP_IDS.join(', ')}.`,
        },
      ];

/** From the lowest to the highest; each present one must lie above the present ones before it. */
const ASCENDING = ['ceilingLow', 'limitLow', 'targetLow', 'targetHigh', 'limitHigh', 'ceilingHigh'] as const;

const lineFaults = (pointer: string, own: OwnWants): readonly PlaceFault[] => {
  const present = ASCENDING.filter((line) => own[line] !== undefined);
  return present.flatMap((line, index) => {
    const below = present[index - 1];
    if (below === undefined) return [];
    const [low, high] = [own[below] ?? 0, own[line] ?? 0];
    const isStrict = below.replace('Low', '') === line.replace('High', '');
    if (isStrict ? low < high : low <= high) return [];
    return [
      { pointer: `${pointer}/${line}`, detail: `${line} is ${high}, and must be above ${below}, which is ${low}.` },
    ];
  });
};
