import type { Place } from '../place.js';
import { fault, ok, type Result } from '../result.js';
import type { DeclaredWork } from '../work.js';
import { checkEntry, type Known } from './check.js';
import { declaredWork } from './declared.js';
import { disinfectantInside, type Inside } from './disinfect.js';
import { type Entry, isKind } from './entry.js';
import { type FieldFault, faulty } from './field.js';
import { placesAfter } from './follow.js';
import { batchNames } from './inspector.js';
import { type Ruling, rulingEntries } from './ruling.js';
import { EMPTY_STOCK, replayStock, type Stock, stockWith } from './stock.js';

/** The whole log, and what follows from it now. */
export type LogRecord = {
  readonly written: ReadonlyMap<string, Entry>;
  readonly ruling: Ruling;
  readonly stock: Stock;
  readonly inside: ReadonlyMap<string, Inside>;
  readonly work: readonly DeclaredWork[];
};

export const EMPTY_RECORD: LogRecord = {
  written: new Map(),
  ruling: { entries: [], standsFor: new Map() },
  stock: EMPTY_STOCK,
  inside: new Map(),
  work: [],
};

/** By the id of a version, the id of the entry it stands for. */
const firstNames = ({ standsFor }: Ruling): ReadonlyMap<string, string> =>
  new Map([...standsFor].map(([first, last]) => [last.id, first]));

export const recordOf = (written: readonly Entry[]): LogRecord => {
  const ruling = rulingEntries(written);
  const names = firstNames(ruling);
  return {
    written: new Map(written.map((entry) => [entry.id, entry])),
    ruling,
    stock: replayStock(ruling.entries),
    inside: disinfectantInside(ruling.entries),
    work: declaredWork(ruling.entries, (id) => names.get(id) ?? id),
  };
};

/** Who may add what: the places as they are now, and the gateway's clock. */
export type Around = { readonly places: readonly Place[]; readonly recordedMs: number };

export type Recorded = {
  readonly record: LogRecord;
  /** Settings that follow the animals; empty when they stayed. */
  readonly places: readonly Place[];
  /** Whether declared work is another than before. */
  readonly isWorkChanged: boolean;
};

/** The record with one entry more, or every reason why not. An entry that is there already changes nothing. */
export const recordWith = (
  record: LogRecord,
  entry: Entry,
  { places, recordedMs }: Around,
): Result<Recorded, readonly FieldFault[]> => {
  if (record.written.has(entry.id)) return ok({ record, places: [], isWorkChanged: false });
  const faults = [...checkCorrection(record, entry), ...checkAgainst(record, entry, places, recordedMs)];
  if (faults.length > 0) return fault(faults);
  const after = added(record, entry);
  const accept = 'accept' in entry.fields && entry.fields.accept === true;
  return ok({
    record: after,
    places: placesAfter(places, record.stock.book, after.stock.book, { atMs: entry.atMs, accept }),
    isWorkChanged: !isSameWork(record.work, after.work),
  });
};

const isSameWork = (a: readonly DeclaredWork[], b: readonly DeclaredWork[]): boolean =>
  a.length === b.length &&
  a.every((work, n) => work.untilMs === b[n]?.untilMs && work.endedMs === b[n]?.endedMs && work.kind === b[n]?.kind);

/** Most entries come last and correct nothing: they are added without reading years of log again. */
const added = (record: LogRecord, entry: Entry): LogRecord => {
  const written = new Map(record.written).set(entry.id, entry);
  const last = record.ruling.entries.at(-1);
  const isPlain = entry.corrects === undefined && (last === undefined || last.atMs < entry.atMs);
  if (!isPlain) return recordOf([...written.values()]);
  const ruling = { ...record.ruling, entries: [...record.ruling.entries, entry] };
  const names = firstNames(ruling);
  return {
    written,
    ruling,
    stock: stockWith(record.stock, entry),
    inside: isKind(entry, 'disinfection', 'residual-test') ? disinfectantInside(ruling.entries) : record.inside,
    work: ABOUT_WORK.has(entry.kind) ? declaredWork(ruling.entries, (id) => names.get(id) ?? id) : record.work,
  };
};
const ABOUT_WORK: ReadonlySet<Entry['kind']> = new Set([
  'work',
  'work-longer',
  'work-end',
  'run-plan',
  'run-end',
  'drain-down',
]);

/** Two people at one entry: the second is shown what the first wrote, and neither is lost. */
const checkCorrection = ({ written }: LogRecord, { corrects }: Entry): readonly FieldFault[] => {
  if (corrects === undefined) return [];
  if (!written.has(corrects)) return [faulty('/corrects', 'no-such-entry')];
  const isSuperseded = [...written.values()].some((other) => other.corrects === corrects);
  return isSuperseded ? [faulty('/corrects', 'corrected-meanwhile')] : [];
};

/** Held against the stock as it was when it happened: what a phone kept for an hour is judged by that hour. */
const checkAgainst = (
  record: LogRecord,
  entry: Entry,
  places: readonly Place[],
  recordedMs: number,
): readonly FieldFault[] => {
  // Taking back is always possible; what then does not add up is shown as a doubt.
  if (entry.kind === 'struck') return [];
  const isLast = entry.corrects === undefined && (record.ruling.entries.at(-1)?.atMs ?? 0) <= entry.atMs;
  const corrected = entry.corrects === undefined ? undefined : record.written.get(entry.corrects);
  const before = isLast
    ? record
    : recordOf(
        [...record.written.values()].filter((one) => one.atMs <= entry.atMs && !isVersionOf(record, one, corrected)),
      );
  const known: Known = {
    places,
    book: before.stock.book,
    inside: before.inside,
    batches: new Set(batchNames(before.stock)),
    open: new Map(record.work.map(({ id, endedMs }) => [id, endedMs === undefined ? 'open' : 'ended'])),
    recordedMs,
  };
  return checkEntry(entry, known);
};

/** What is being corrected, and everything it corrected before, is not there while its correction is judged. */
const isVersionOf = ({ written }: LogRecord, one: Entry, corrected: Entry | undefined): boolean => {
  for (let version = corrected; version !== undefined; version = written.get(version.corrects ?? '')) {
    if (version.id === one.id) return true;
  }
  return false;
};
