import type { OwnWants } from '../place.js';
import { isQuantity } from '../quantity.js';
import { type ByLanguage, inLanguage, type Language } from './language.js';
import { capital, namesFor } from './name.js';

type Spoken = { readonly language?: Language };

/** A line that people set, as it is called above its field. */
export const LINE_WORDS = {
  ceilingLow: 'floor',
  limitLow: 'limit, low',
  targetLow: 'target, from',
  targetHigh: 'target, to',
  limitHigh: 'limit, high',
  ceilingHigh: 'ceiling',
} as const satisfies { readonly [line in keyof OwnWants]?: string };
export type WantedLine = keyof typeof LINE_WORDS;
const isLine = (text: string): text is WantedLine => Object.hasOwn(LINE_WORDS, text);

/** What a field of the settings is called in its form, by the name that it has in the API. */
const LABELS: ByLanguage<Readonly<Record<string, string>>> = {
  en: {
    id: 'Id',
    name: 'Name',
    kind: 'Kind',
    order: 'Place on the wall',
    zone: 'Time zone',
    temperatureUnit: 'Temperatures in',
    hours: 'The clock',
    decimalMark: 'Between whole and part of a number',
    altitudeM: 'Height over the sea',
    keepReadingsDays: 'Every reading',
    keepHoursDays: 'Every hour',
    lineId: 'Supply line',
    airMainId: 'Air main',
    circuitId: 'Power circuit',
    roomId: 'Room',
    stage: 'Holds',
    stageSinceMs: 'Holds it since',
    batch: 'Batch',
    speciesGroup: 'Animals',
    regime: 'Water',
    volumeL: 'Volume',
    depthM: 'Depth',
    flowLMin: 'Flow',
    heaterW: 'Heater',
    aerated: 'Aerated',
    chilled: 'Has a chiller',
    bed: 'Bed',
    porosity: 'Porosity',
    board: 'Board',
    accessPoint: 'Network',
    place: 'Tank',
    placeId: 'Tank',
    quantity: 'Measures',
    unit: 'Sends in',
    position: 'Where in the tank',
    fromMs: 'From',
    toMs: 'To',
    slope: 'Slope',
    offset: 'Offset',
    account: 'Signs in as',
    phone: 'Phone number',
    manager: 'May be called as a manager',
    ways: 'Ways to be reached',
    way: 'Way to be reached',
    address: 'Address',
    wakes: 'Whether it wakes',
    channelId: 'The contact',
    pressed: 'Pressed, it goes',
    does: 'What it does',
    entry: 'What it writes',
    work: 'Work',
    minutes: 'For so long',
    shifts: 'Week',
    weekday: 'Day',
    fromMinute: 'From',
    role: 'Role',
    personId: 'Who',
    swaps: 'Swaps',
    holidays: 'Holidays',
    dayFromMinute: 'The day begins',
    dayToMinute: 'The night begins',
    emergency: 'When nobody answers, telephone',
    drill: 'Test call',
    minute: 'Time of the test call',
    passphrase: 'Passphrase',
  },
};

/** `Volume` of `/volumeL`, `Temperature, limit, high` of `/wants/temperature/limitHigh`; undefined where no form asks it. */
export const settingLabel = (pointer: string, reader: Spoken = {}): string | undefined => {
  const names = pointer.split('/').filter((part) => part !== '' && !/^\d+$/.test(part));
  const last = names.at(-1) ?? '';
  const before = names.at(-2) ?? '';
  if (isLine(last))
    return capital(isQuantity(before) ? `${namesFor(reader).quantity[before]}, ${LINE_WORDS[last]}` : LINE_WORDS[last]);
  if (isQuantity(last)) return capital(namesFor(reader).quantity[last]);
  const labels = inLanguage(LABELS, reader);
  return Object.hasOwn(labels, last) ? labels[last] : undefined;
};
