import type { OwnWants, Place, Regime } from '../../rules/place.js';
import { REGIMES } from '../../rules/place.js';
import type { Quantity } from '../../rules/quantity.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { isStage } from '../../rules/stage/stage.js';
import { noNumberSentence, plainWords, typedNumber, typedWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { canonicalValue, shownValue } from '../../rules/words/number.js';

/** What stands in the form of a place: text, as a person typed it, in the reader's degrees. */
export type PlaceForm = {
  readonly name: string;
  readonly lineId: string;
  readonly stage: string;
  readonly speciesGroup: string;
  readonly regime: string;
  readonly volumeL: string;
  readonly lines: Readonly<Record<string, string>>;
};

/** Quantities whose own lines can be set here; the others keep what their file or the API gave them. */
export const FORM_QUANTITIES: readonly Quantity[] = ['temperature', 'salinity', 'oxygen-saturation'];
/** From the lowest line to the highest. */
export const FORM_LINES = ['limitLow', 'targetLow', 'targetHigh', 'limitHigh', 'ceilingHigh'] as const;
export type FormLine = (typeof FORM_LINES)[number];

export const lineKey = (quantity: Quantity, line: FormLine): string => `${quantity}.${line}`;

const lineText = (place: Place, quantity: Quantity, line: FormLine, reader: Reader): string => {
  const value = place.wants?.[quantity]?.[line];
  return value === undefined ? '' : typedWords(shownValue(quantity, value, reader), 2, reader);
};

export const formOf = (place: Place, reader: Reader): PlaceForm => ({
  name: place.name,
  lineId: place.lineId ?? '',
  stage: place.stage ?? '',
  speciesGroup: place.speciesGroup ?? '',
  regime: place.regime ?? '',
  volumeL: place.volumeL === undefined ? '' : plainWords(place.volumeL, 12, reader),
  lines: Object.fromEntries(
    FORM_QUANTITIES.flatMap((quantity) =>
      FORM_LINES.map((line) => {
        return [lineKey(quantity, line), lineText(place, quantity, line, reader)] as const;
      }),
    ),
  ),
});

/** A field that cannot be used, with what is wrong in a sentence. */
export type FormFault = { readonly field: string; readonly detail: string };

/** The place with what the form says; fields left empty are taken away, and what the form does not show stays. */
export const placeOfForm = (before: Place, form: PlaceForm, reader: Reader): Result<Place, readonly FormFault[]> => {
  const faults: FormFault[] = [];
  const number = (field: string, text: string): number | undefined => {
    const value = typedNumber(text, reader);
    if (value === null) faults.push({ field, detail: noNumberSentence(text, reader) });
    return value ?? undefined;
  };
  if (form.name.trim() === '') faults.push({ field: 'name', detail: 'A tank needs a name.' });
  const volumeL = number('volumeL', form.volumeL);
  if (volumeL !== undefined && volumeL <= 0)
    faults.push({ field: 'volumeL', detail: 'A tank holds more than nothing.' });
  const wants: Wanted = { ...before.wants };
  for (const quantity of FORM_QUANTITIES) wants[quantity] = ownWants(before, quantity, form, reader, number, faults);
  if (faults.length > 0) return fault(faults);
  const { lineId, stage, speciesGroup, regime, volumeL: _, wants: __, ...rest } = before;
  return ok({
    ...rest,
    name: form.name.trim(),
    ...(form.lineId === '' ? {} : { lineId: form.lineId }),
    ...(isStage(form.stage) ? { stage: form.stage } : {}),
    ...(form.speciesGroup === '' ? {} : { speciesGroup: form.speciesGroup }),
    ...(isRegime(form.regime) ? { regime: form.regime } : {}),
    ...(volumeL === undefined ? {} : { volumeL }),
    ...(Object.values(wants).every((one) => one === undefined) ? {} : { wants: present(wants) }),
  });
};

const isRegime = (text: string): text is Regime => REGIMES.some((regime) => regime === text);

type Wanted = { [quantity in Quantity]?: OwnWants | undefined };

const present = (wants: Wanted): NonNullable<Place['wants']> =>
  Object.fromEntries(Object.entries(wants).filter(([, own]) => own !== undefined));

const ownWants = (
  before: Place,
  quantity: Quantity,
  form: PlaceForm,
  reader: Reader,
  number: (field: string, text: string) => number | undefined,
  faults: FormFault[],
): OwnWants | undefined => {
  const typed: { [line in FormLine]?: number } = {};
  for (const line of FORM_LINES) {
    const key = lineKey(quantity, line);
    const text = form.lines[key] ?? '';
    const shown = number(key, text);
    if (shown === undefined) continue;
    // What nobody touched stays as it is to the last digit: the form shows two.
    const untouched = text === lineText(before, quantity, line, reader) ? before.wants?.[quantity]?.[line] : undefined;
    typed[line] = untouched ?? canonicalValue(quantity, shown, reader);
  }
  const {
    targetLow: _,
    targetHigh: __,
    limitLow: ___,
    limitHigh: ____,
    ceilingHigh: _____,
    ...kept
  } = before.wants?.[quantity] ?? {};
  const order = FORM_LINES.flatMap((line) => typed[line] ?? []);
  if (order.some((value, index) => index > 0 && value < (order[index - 1] ?? value)))
    faults.push({
      field: lineKey(quantity, 'limitLow'),
      detail: 'From lowest to highest: limit, target, target, limit, ceiling.',
    });
  return Object.keys(typed).length === 0 && Object.keys(kept).length === 0 ? undefined : { ...kept, ...typed };
};
