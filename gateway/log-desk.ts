import type { WaterOver } from '../rules/bed/over.js';
import type { Happening } from '../rules/engine/happening.js';
import { type Entry, parseEntry } from '../rules/log/entry.js';
import type { FieldFault } from '../rules/log/field.js';
import { LOOK_COUNTS_MS, lookedBed } from '../rules/log/looked.js';
import { cleanedBed, newsFrom } from '../rules/log/news.js';
import { type LogRecord, recordOf, recordWith } from '../rules/log/record.js';
import { onSite } from '../rules/log/round.js';
import type { Place } from '../rules/place.js';
import { fault, ok, type Result } from '../rules/result.js';
import type { DeclaredWork } from '../rules/work.js';
import type { Journal } from './journal/journal.js';
import type { LogEntry } from './journal/log.js';
import { keepPlace, loadHatchery, rulingPlaces } from './settings.js';
import type { Watchkeeper } from './watchkeeper-contract.js';

/** Why an entry was not kept. */
export type LogFault =
  | { readonly code: 'refused'; readonly faults: readonly FieldFault[] }
  /** Somebody corrected the same entry first. */
  | { readonly code: 'corrected-meanwhile'; readonly faults: readonly FieldFault[] }
  /** Another entry has this id. */
  | { readonly code: 'id-taken' };

/** `isNew` is false for one that was here already: a phone that heard no answer sends again. */
export type Written = { readonly entry: Entry; readonly isNew: boolean };

/** The one owner of the log: an entry is kept whole with everything that follows from it, or not at all. */
export type LogDesk = {
  record(): LogRecord;
  write(sent: unknown, by: string): Result<Written, LogFault>;
  /** Once a minute: people who said nothing for half a day have left. */
  beat(): void;
};

export type LogDeskParts = {
  readonly journal: Pick<Journal, 'log' | 'settings' | 'mappings' | 'calibrations' | 'sources' | 'together'>;
  readonly watchkeeper: Pick<Watchkeeper, 'tell'>;
  readonly now: () => number;
  readonly record: LogRecord;
  /** Whether a photo that an entry names has arrived. */
  readonly hasPhoto?: (id: string) => boolean;
  /** The water over a bed as it is measured now. */
  readonly waterOver?: (placeId: string) => WaterOver | undefined;
};

/** Everything else of an entry than what the journal has columns for. */
type Body = Omit<Entry, 'id' | 'atMs' | 'kind' | 'placeId' | 'by'>;

/** As the journal keeps it. */
export const rowOf = ({ id, atMs, kind, placeId, by, ...body }: Entry, recordedMs: number): LogEntry => ({
  id,
  atMs,
  recordedMs,
  kind,
  by,
  ...(placeId === undefined ? {} : { placeId }),
  body: body satisfies Body,
});

/** Only what came through `write` is in the journal, so its shape is believed. */
export const entryFrom = ({ id, atMs, kind, placeId, by, body }: LogEntry): Entry =>
  ({ ...(body as Body), id, atMs, kind, by, ...(placeId === undefined ? {} : { placeId }) }) as Entry;

export const readRecord = ({ log }: Pick<Journal, 'log'>): LogRecord =>
  recordOf(log.between(0, Number.MAX_SAFE_INTEGER).map(entryFrom));

const DAY_MS = 86_400_000;

/** What the engine has to know of: open, or ended so lately that windows still reach into it. */
export const workFor = (work: readonly DeclaredWork[], nowMs: number): readonly DeclaredWork[] =>
  work.filter(({ endedMs }) => endedMs === undefined || nowMs - endedMs < DAY_MS);

export const buildLogDesk = (parts: LogDeskParts): LogDesk => {
  const { journal, watchkeeper, now } = parts;
  let record = parts.record;
  let isSomebodyHere = onSite(record.ruling.entries, now()).length > 0;

  const keep = (entry: Entry): Result<Written, LogFault> => {
    const recordedMs = now();
    const before = rulingPlaces(journal, recordedMs).map(({ body }) => body);
    const recorded = recordWith(record, entry, { places: before, recordedMs });
    if (!recorded.ok) return fault(faultOf(recorded.fault));
    const { places: moved, isWorkChanged, record: after } = recorded.value;
    const places = [...moved, ...beds(entry, before, recordedMs)];
    journal.together(() => {
      journal.log.add(rowOf(entry, recordedMs));
      for (const place of places) keepPlace(journal, place, entry.by, recordedMs);
    });
    record = after;
    tellAll([
      ...newsFrom(entry, recordedMs, record.ruling.entries),
      ...(places.length === 0
        ? []
        : [{ kind: 'hatchery', atMs: recordedMs, hatchery: loadHatchery(journal, recordedMs) } as const]),
      ...(isWorkChanged ? [{ kind: 'work', atMs: recordedMs, work: workFor(record.work, recordedMs) } as const] : []),
      // Screens hear of a new entry with whatever lands next; this is something that lands.
      { kind: 'tick', atMs: recordedMs },
    ]);
    isSomebodyHere = onSite(record.ruling.entries, recordedMs).length > 0;
    return ok({ entry, isNew: true });
  };

  /** A bed that was washed, or looked at while its water is still the same. */
  const beds = (entry: Entry, places: readonly Place[], nowMs: number): readonly Place[] => {
    const place = places.find(({ id }) => id === entry.placeId);
    const isNow = place !== undefined && Math.abs(nowMs - entry.atMs) <= LOOK_COUNTS_MS;
    const water = isNow ? parts.waterOver?.(place.id) : undefined;
    const changed = cleanedBed(entry, place) ?? lookedBed(entry, place, water);
    return changed === undefined ? [] : [changed];
  };

  const tellAll = (happenings: readonly Happening[]): void => {
    for (const happening of happenings) watchkeeper.tell(happening);
  };

  return {
    record: () => record,
    write: (sent, by) => {
      const parsed = parseEntry(sent, by);
      if (!parsed.ok) return fault({ code: 'refused', faults: parsed.fault });
      const entry = parsed.value;
      const here = record.written.get(entry.id);
      if (here !== undefined)
        return isSame(here, entry) ? ok({ entry: here, isNew: false }) : fault({ code: 'id-taken' });
      const missing = (entry.photos ?? []).flatMap((id, n) =>
        parts.hasPhoto?.(id) === false ? [{ pointer: `/photos/${n}`, code: 'photo-missing' }] : [],
      );
      return missing.length > 0 ? fault({ code: 'refused', faults: missing }) : keep(entry);
    },
    beat: () => {
      const isNow = onSite(record.ruling.entries, now()).length > 0;
      if (isNow === isSomebodyHere) return;
      isSomebodyHere = isNow;
      watchkeeper.tell({ kind: 'presence', atMs: now(), onSite: isNow });
    },
  };
};

const faultOf = (faults: readonly FieldFault[]): LogFault => ({
  code: faults.some(({ code }) => code === 'corrected-meanwhile') ? 'corrected-meanwhile' : 'refused',
  faults,
});

/** By whom is left out: the same phone may send again under another session. */
const isSame = ({ by: _a, ...a }: Entry, { by: _b, ...b }: Entry): boolean => canonical(a) === canonical(b);

/** The same text for the same content, in whatever order it was written. */
const canonical = (value: unknown): string =>
  JSON.stringify(value, (_key, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
