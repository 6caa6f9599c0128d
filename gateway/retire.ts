import { lotsIn } from '../rules/log/book.js';
import { openWork } from '../rules/log/declared.js';
import type { LogRecord } from '../rules/log/record.js';
import type { Place } from '../rules/place.js';
import { fault, ok, type Result } from '../rules/result.js';
import type { Button } from '../rules/wire/log.js';
import { namesFor } from '../rules/words/name.js';
import { BUTTON } from './buttons.js';
import type { Journal } from './journal/journal.js';
import { removePlace, type SettingsDesk, type Writing } from './settings.js';

/** Why a place cannot be taken out now, and what to do first. */
export type InTheWay = string;
export type RetireFault =
  | { readonly code: 'version-changed'; readonly present: number }
  | { readonly code: 'place-in-use'; readonly name: string; readonly first: InTheWay }
  | { readonly code: 'no-such-place'; readonly id: string };

type Parts = {
  readonly journal: Pick<Journal, 'settings' | 'mappings' | 'calibrations' | 'sources'>;
  readonly desk: Pick<SettingsDesk, 'change' | 'site'>;
  readonly record: LogRecord;
};

const SUPPLY_KEYS = ['lineId', 'airMainId', 'circuitId', 'roomId'] as const;

/** Animals, work and whatever hangs on it come first; the history of the place stays in any case. */
export const inTheWay = (
  place: Place,
  {
    places,
    record,
    buttons,
  }: { readonly places: readonly Place[]; readonly record: LogRecord; readonly buttons: readonly Button[] },
): InTheWay | undefined => {
  const batches = lotsIn(record.stock.book, place.id).map(({ batchId }) => batchId);
  if (batches.length > 0)
    return `the log says that ${batches.join(' and ')} is in it. Write where the animals went (move, sale, dump) first.`;
  if (place.stage !== undefined && place.stage !== 'empty')
    return `it is set to hold ${namesFor().stage[place.stage]}. Set it to “empty” first.`;
  const work = openWork(record.work).find(({ placeId }) => placeId === place.id);
  if (work !== undefined) return `“${namesFor().work[work.kind]}” is declared at it. End that first.`;
  const inside = record.inside.get(place.id);
  if (inside !== undefined) return `${inside.product} is inside by the log. Write a residual test first.`;
  const hanging = places.filter((other) => SUPPLY_KEYS.some((key) => other[key] === place.id));
  if (hanging.length > 0)
    return `${hanging.map(({ name }) => name).join(', ')} hang on it. Give them another supply first.`;
  const button = buttons.find(
    ({ channelId, does }) => does.placeId === place.id || channelId.startsWith(`${place.id}.`),
  );
  return button === undefined
    ? undefined
    : `the button “${button.id}” belongs to it. Change or take out the button first.`;
};

/** Takes a place out: its probes wait for a new name, and everything that was read and written of it stays. */
export const retirePlace = (
  { journal, desk, record }: Parts,
  id: string,
  { by, expectedVersion }: Writing,
): Result<undefined, RetireFault> =>
  desk.change((nowMs): Result<undefined, RetireFault> => {
    const places = desk.site().places;
    const present = places.find(({ body }) => body.id === id);
    if (present === undefined) return fault({ code: 'no-such-place', id });
    if (present.version !== expectedVersion) return fault({ code: 'version-changed', present: present.version });
    const buttons = journal.settings.allRuling(BUTTON, nowMs).map(({ body }) => body as Button);
    const first = inTheWay(present.body, { places: places.map(({ body }) => body), record, buttons });
    if (first !== undefined) return fault({ code: 'place-in-use', name: present.body.name, first });
    removePlace(journal, id, by, nowMs);
    return ok(undefined);
  });
