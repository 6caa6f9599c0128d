import { ENTRY_KINDS } from '../../rules/log/entry.js';
import type { Reader } from '../../rules/words/language.js';
import { animalsFrom, fieldsFrom, type Texts } from './entry-draft.js';

/** Where a part of a split goes: tank and number, as typed. */
export type Part = { readonly placeId: string; readonly animals: string };

/** A drain-down sheet while it is filled in; it is kept on the phone until it is written. */
export type SheetForm = {
  readonly texts: Texts;
  readonly parts: readonly Part[];
  readonly startedMs?: number;
};
const EMPTY_SHEET: SheetForm = { texts: {}, parts: [] };

/** Figures that only one of the ends has. */
const OF_END: { readonly [end: string]: readonly string[] } = {
  'back-in': [],
  to: ['/placeId'],
  split: [],
  pooled: ['/placeId', '/batchId'],
  dumped: ['/why'],
};
const ENDS = ['/placeId', '/batchId', '/why'];

/** The fields of the sheet: what belongs to another end than the one chosen is left out. */
export const sheetFields = ({ texts, parts, startedMs }: SheetForm, reader: Reader): unknown => {
  const end = texts['/end'] ?? '';
  const kept = Object.entries(texts).filter(([key]) => !ENDS.includes(key) || (OF_END[end] ?? []).includes(key));
  const fields = fieldsFrom(ENTRY_KINDS['drain-down'].shape, Object.fromEntries(kept), reader) ?? {};
  const to = parts
    .filter(({ placeId, animals }) => placeId !== '' || animals !== '')
    .map(({ placeId, animals }) => ({ placeId, animals: animalsFrom(animals, reader) ?? animals }));
  return {
    ...(fields as object),
    ...(end === 'split' ? { to } : {}),
    ...(startedMs === undefined ? {} : { startedMs: Math.round(startedMs) }),
  };
};

const keyOf = (placeId: string): string => `nightwater-sheet-${placeId}`;

/** A phone that falls asleep, or into a tank's rim, must not lose a half-filled sheet. */
export const keptSheet = (placeId: string): SheetForm => {
  try {
    const text = localStorage.getItem(keyOf(placeId));
    return text === null ? EMPTY_SHEET : (JSON.parse(text) as SheetForm);
  } catch {
    return EMPTY_SHEET;
  }
};
export const keepSheet = (placeId: string, form: SheetForm): void => {
  try {
    if (Object.keys(form.texts).length + form.parts.length === 0) localStorage.removeItem(keyOf(placeId));
    else localStorage.setItem(keyOf(placeId), JSON.stringify(form));
  } catch {
    // A browser that keeps nothing: the sheet lasts as long as the page.
  }
};
