import type { Bed, Place } from '../../rules/place.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { type Marked, noNumberSentence, plainWords, typedNumber } from '../../rules/words/figure.js';
import type { Texts } from './entry-draft.js';
import type { FormFault } from './place-form.js';

/** Figures of a place beside its stage and volume: unit and lowest value that makes sense. */
export const NUMBERS = {
  depthM: ['Depth of the water', 'm'],
  flowLMin: ['Flow', 'L/min'],
  heaterW: ['Heater', 'W'],
} as const;
type NumberName = keyof typeof NUMBERS;

/** What it hangs on, by kind of place. */
export const SUPPLIES = {
  airMainId: ['Air main', 'air-main'],
  circuitId: ['Power circuit', 'circuit'],
  roomId: ['Room', 'room'],
} as const;
type SupplyName = keyof typeof SUPPLIES;

export const FLAGS = { aerated: 'Aerated', chilled: 'Has a chiller' } as const;
type FlagName = keyof typeof FLAGS;

/** Further figures of a bed: label, unit, highest value. Without the thinnest layer no bed is ever called due for cleaning. */
export const BED_NUMBERS = {
  limitDepthMm: ['Thinnest oxygenated layer you accept', 'mm', 5_000],
  throughFlowLM2H: ['Water pumped through the bed', 'L/m² per hour', 1_000_000],
  wasteMmolCM2Day: ['Waste that comes to lie on it, carbon', 'mmol/m² per day', 100_000],
  porosity: ['Share of pores', '0 to 1', 1],
  grainMm: ['Grain', 'mm', 100],
} as const;
type BedNumber = keyof typeof BED_NUMBERS;

const namesOf = <Name extends string>(table: Readonly<Record<Name, unknown>>): readonly Name[] =>
  Object.keys(table) as Name[];
const NUMBER_NAMES: readonly NumberName[] = namesOf(NUMBERS);
const SUPPLY_NAMES: readonly SupplyName[] = namesOf(SUPPLIES);
const FLAG_NAMES: readonly FlagName[] = namesOf(FLAGS);
const BED_NAMES: readonly BedNumber[] = namesOf(BED_NUMBERS);

const BEDS = ['sand', 'aragonite'] as const;
const isBedKind = (text: string): text is Bed['kind'] => BEDS.some((kind) => kind === text);

/** What stands in the further fields of a place's form. */
export const moreOf = (place: Place, reader: Marked): Texts => ({
  ...Object.fromEntries(NUMBER_NAMES.map((name) => [name, typed(place[name], reader)])),
  ...Object.fromEntries(SUPPLY_NAMES.map((name) => [name, place[name] ?? ''])),
  ...Object.fromEntries(FLAG_NAMES.map((name) => [name, place[name] === true ? 'yes' : ''])),
  bed: place.bed?.kind ?? '',
  bedDepthM: typed(place.bed?.depthM, reader),
  ...Object.fromEntries(BED_NAMES.map((name) => [name, typed(place.bed?.[name], reader)])),
});

const typed = (value: number | undefined, reader: Marked): string =>
  value === undefined ? '' : plainWords(value, 12, reader);

/** The place with those fields; what is left empty is taken away, and what the form does not show stays. */
export const withMore = (before: Place, texts: Texts, reader: Marked): Result<Place, readonly FormFault[]> => {
  const faults: FormFault[] = [];
  const kept: Record<string, unknown> = { ...before };
  for (const name of NUMBER_NAMES) {
    const text = texts[name] ?? '';
    const value = typedNumber(text, reader);
    if (value === null) faults.push({ field: name, detail: noNumberSentence(text, reader) });
    else if (value !== undefined && value < 0)
      faults.push({ field: name, detail: `${NUMBERS[name][0]} is ${text.trim()}: give 0 or more, or nothing.` });
    setOrTake(kept, name, value ?? undefined);
  }
  for (const name of SUPPLY_NAMES) setOrTake(kept, name, (texts[name] ?? '') === '' ? undefined : texts[name]);
  for (const name of FLAG_NAMES) setOrTake(kept, name, texts[name] === 'yes' ? true : undefined);
  setOrTake(kept, 'bed', bedFrom(before.bed, texts, reader, faults));
  // Only fields of a place were set, each with its own kind of value.
  return faults.length > 0 ? fault(faults) : ok(kept as Place);
};

const setOrTake = (kept: Record<string, unknown>, name: string, value: unknown): void => {
  if (value === undefined) delete kept[name];
  else kept[name] = value;
};

const bedFrom = (before: Bed | undefined, texts: Texts, reader: Marked, faults: FormFault[]): Bed | undefined => {
  const kind = texts.bed ?? '';
  if (!isBedKind(kind)) return undefined;
  const depthM = typedNumber(texts.bedDepthM ?? '', reader);
  if (depthM === null || depthM === undefined || depthM <= 0 || depthM > 5) {
    faults.push({
      field: 'bedDepthM',
      detail: `How deep is the bed, in metres? As in ${plainWords(0.12, 2, reader)}.`,
    });
    return undefined;
  }
  const bed: Record<string, unknown> = { ...before, kind, depthM };
  for (const name of BED_NAMES) setOrTake(bed, name, bedNumber(name, texts[name] ?? '', reader, faults));
  // Only fields of a bed were set, each a number.
  return bed as Bed;
};

const bedNumber = (name: BedNumber, text: string, reader: Marked, faults: FormFault[]): number | undefined => {
  const [label, , most] = BED_NUMBERS[name];
  const value = typedNumber(text, reader);
  if (value === null) faults.push({ field: name, detail: noNumberSentence(text, reader) });
  else if (value !== undefined && (value < 0 || value > most || (name === 'grainMm' && value === 0)))
    faults.push({ field: name, detail: `${label} is ${text.trim()}: give more than 0, at most ${most}, or nothing.` });
  else return value;
  return undefined;
};
