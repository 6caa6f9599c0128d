import type { Site } from '../rules/hatchery.js';
import { isPlaceId, type OwnWants, type Place, type PlaceKind } from '../rules/place.js';
import { isQuantity, type Quantity } from '../rules/quantity.js';
import { isSpeciesGroupId, SPECIES_GROUPS } from '../rules/stage/profiles.js';
import { isZone } from '../rules/words/clock.js';
import { CANONICAL, type FigureReader } from '../rules/words/degrees.js';
import { capital, quantityName } from '../rules/words/name.js';
import { lineWords } from '../rules/words/number.js';
import { LINE_WORDS, type WantedLine } from '../rules/words/setting-field.js';
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
export const placeFaults = (
  place: Place,
  others: readonly Place[],
  reader: FigureReader = CANONICAL,
): readonly PlaceFault[] => [
  ...idFaults(place),
  ...nameFaults(place, others),
  ...supplyFaults(place, others),
  ...speciesFaults(place),
  ...wantsFaults('/wants', place.wants ?? {}, reader),
  ...Object.entries(place.stageWants ?? {}).flatMap(([stage, wants]) =>
    wantsFaults(`/stageWants/${stage}`, wants ?? {}, reader),
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

const wantsFaults = (
  pointer: string,
  wants: NonNullable<Place['wants']>,
  reader: FigureReader,
): readonly PlaceFault[] =>
  Object.entries(wants).flatMap(([quantity, own]) =>
    isQuantity(quantity) && own !== undefined ? lineFaults(`${pointer}/${quantity}`, quantity, own, reader) : [],
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

type Set = readonly [line: WantedLine, value: number];
const orderSentence = (quantity: Quantity, [line, high]: Set, [below, low]: Set, reader: FigureReader): string =>
  `${capital(quantityName(quantity))}: “${LINE_WORDS[line]}” is ${lineWords(quantity, high, reader)}, and must be above “${LINE_WORDS[below]}”, which is ${lineWords(quantity, low, reader)}.`;

const lineFaults = (
  pointer: string,
  quantity: Quantity,
  own: OwnWants,
  reader: FigureReader,
): readonly PlaceFault[] => {
  const present = ASCENDING.filter((line) => own[line] !== undefined);
  return present.flatMap((line, index) => {
    const below = present[index - 1];
    if (below === undefined) return [];
    const [low, high] = [own[below] ?? 0, own[line] ?? 0];
    const isStrict = below.replace('Low', '') === line.replace('High', '');
    if (isStrict ? low < high : low <= high) return [];
    return [{ pointer: `${pointer}/${line}`, detail: orderSentence(quantity, [line, high], [below, low], reader) }];
  });
};
