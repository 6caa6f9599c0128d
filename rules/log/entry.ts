import { fault, ok, type Result } from '../result.js';
import { atMs, placeId, ulid, words } from './common.js';
import { type Field, type FieldFault, faulty, fieldsOf, listOf, maybe, text } from './field.js';
import { ANIMAL_KINDS } from './kinds/animals.js';
import { KEEPING_KINDS } from './kinds/keeping.js';
import { RUN_KINDS } from './kinds/run.js';
import { SHEET_KINDS } from './kinds/sheet.js';
import { WATER_KINDS } from './kinds/water.js';

/** Every kind of entry of the trade, with the fields of its form. */
export const ENTRY_KINDS = {
  ...ANIMAL_KINDS,
  ...SHEET_KINDS,
  ...WATER_KINDS,
  ...RUN_KINDS,
  ...KEEPING_KINDS,
} as const;
export type EntryKind = keyof typeof ENTRY_KINDS;
export const isEntryKind = (text: string): text is EntryKind => Object.hasOwn(ENTRY_KINDS, text);
export const ENTRY_KIND_NAMES: readonly EntryKind[] = Object.keys(ENTRY_KINDS).filter(isEntryKind);

export type FieldsOf<K extends EntryKind> = (typeof ENTRY_KINDS)[K] extends Field<infer T> ? T : never;

type Envelope = {
  /** A ULID made where it was written: sent twice, it is kept once. */
  readonly id: string;
  /** When it happened, as the person says. */
  readonly atMs: number;
  readonly placeId?: string;
  /** The name under which the screen was signed in, and on a shared tablet the initials of the person. */
  readonly by: string;
  readonly initials?: string;
  /** The entry, or the correction of it, that this one stands for from now on. */
  readonly corrects?: string;
  readonly note?: string;
  readonly photos?: readonly string[];
};

/** What a person wrote down. `fields` are those of its kind. */
export type Entry<K extends EntryKind = EntryKind> = {
  readonly [Kind in K]: Envelope & { readonly kind: Kind; readonly fields: FieldsOf<Kind> };
}[K];

/** Kinds that are about the whole site, or about a run or a work that knows its place. */
const WITHOUT_PLACE: readonly EntryKind[] = [
  'round',
  'on-site',
  'note',
  'struck',
  'culture',
  'filter',
  'uv-hours',
  'work-longer',
  'work-end',
  'run-phase',
  'run-spawner',
  'run-eggs',
  'run-end',
];
export const needsPlace = (kind: EntryKind): boolean => !WITHOUT_PLACE.includes(kind);

const photoId = text(64, /^[0-9a-f]{64}$/);
const ENVELOPE = fieldsOf({
  id: ulid,
  atMs,
  kind: text(40),
  placeId: maybe(placeId),
  initials: maybe(text(8)),
  corrects: maybe(ulid),
  note: maybe(words),
  photos: maybe(listOf(photoId, 1, 12)),
  /** Read by the kind's own fields. */
  fields: maybe({ shape: { kind: 'fields', fields: {} }, read: (value: unknown) => ok(value) }),
});

/** An entry as a form or a queue sends it, or every fault with its place. `by` is who sent it: nobody signs for another. */
export const parseEntry = (sent: unknown, by: string): Result<Entry, readonly FieldFault[]> => {
  const read = ENVELOPE.read(sent, '');
  const kind = kindIn(sent);
  const fields = kind === undefined ? undefined : ENTRY_KINDS[kind].read(fieldsIn(sent), '/fields');
  const faults = [
    ...(read.ok ? [] : read.fault),
    ...(kind === undefined && read.ok ? [faulty('/kind', 'not-a-kind')] : []),
    ...(fields === undefined || fields.ok ? [] : fields.fault),
    ...(read.ok && kind !== undefined && needsPlace(kind) && read.value.placeId === undefined
      ? [faulty('/placeId', 'missing')]
      : []),
    ...(read.ok && kind === 'struck' && read.value.corrects === undefined ? [faulty('/corrects', 'missing')] : []),
  ];
  if (!read.ok || fields?.ok !== true || faults.length > 0) return fault(faults);
  // `kind` and `fields` were read together, which the compiler cannot follow through the table.
  return ok({ ...read.value, by, kind, fields: fields.value } as Entry);
};

const kindIn = (sent: unknown): EntryKind | undefined => {
  const kind = memberOf(sent, 'kind');
  return typeof kind === 'string' && isEntryKind(kind) ? kind : undefined;
};
const fieldsIn = (sent: unknown): unknown => memberOf(sent, 'fields') ?? {};

const memberOf = (sent: unknown, name: string): unknown =>
  typeof sent === 'object' && sent !== null && name in sent
    ? (sent as Readonly<Record<string, unknown>>)[name]
    : undefined;

export const isKind = <K extends EntryKind>(
  entry: Entry,
  ...kinds: readonly K[]
): entry is Extract<Entry, { readonly kind: K }> => kinds.some((kind) => kind === entry.kind);

/** One line: who, by initials where somebody gave them. */
export const authorOf = ({ by, initials }: Pick<Entry, 'by' | 'initials'>): string =>
  initials === undefined ? by : `${initials} (${by})`;
