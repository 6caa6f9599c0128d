import { fault, ok, type Result } from '../../rules/result.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import { type Fields, fieldFault, isFields } from './senml-field.js';

/** A record with everything that it inherits; times are seconds since 1970. */
export type SenmlRecord = {
  readonly name: string;
  readonly unit?: string;
  readonly timeS: number;
  /** The sum of base time and time as sent: relative below 2^28, and 0 says "now". */
  readonly sentTimeS: number;
  readonly value?: SenmlValue;
  readonly sum?: number;
  readonly updateS?: number;
  /** Only where it is not 10, as in the resolved form of the standard. */
  readonly version?: number;
  /** Fields that the standard does not know: without meaning here, kept as they came. */
  readonly unknown: Fields;
};

export type SenmlValue =
  | { readonly kind: 'number'; readonly number: number }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'boolean'; readonly boolean: boolean }
  | { readonly kind: 'binary'; readonly base64url: string };

/** [RFC 8428 section 4.5.3] a sum below this is relative to now: negative is the past, positive the future. */
export const RELATIVE_BELOW_S = 2 ** 28;
const VERSION = 10;
const NAME = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;
const VALUE_FIELDS = ['v', 'vs', 'vb', 'vd'] as const;
const BASE_FIELDS: readonly string[] = ['bn', 'bt', 'bu', 'bv', 'bs', 'bver'];
const KNOWN_FIELDS: readonly string[] = [...BASE_FIELDS, ...VALUE_FIELDS, 'n', 'u', 's', 't', 'ut'];

/**
 * Resolves a SenML pack (RFC 8428 section 4.6): base fields worked in, times absolute, in chronological order; equal
 * times keep the order of the pack. `nowS` is the receive time. One fault refuses the pack.
 */
export const resolveSenml = (pack: unknown, nowS: number): Result<readonly SenmlRecord[], Malformed> => {
  if (!Array.isArray(pack)) return fault(malformed('senml-not-array'));
  if (pack.length === 0) return fault(malformed('senml-pack-empty'));
  const resolved: SenmlRecord[] = [];
  let base: Fields = {};
  for (const [index, fields] of pack.entries()) {
    const record = index + 1;
    if (!isFields(fields)) return fault(malformed('senml-record-not-object', { record }));
    const wrong = fieldFault(fields, record) ?? mustUnderstand(fields, record) ?? versionFault(base, fields, record);
    if (wrong !== undefined) return fault(wrong);
    base = { ...base, ...Object.fromEntries(Object.entries(fields).filter(([label]) => BASE_FIELDS.includes(label))) };
    if (isBaseOnly(fields)) continue;
    const one = resolveRecord(base, fields, { record, nowS });
    if (!one.ok) return one;
    resolved.push(one.value);
  }
  return ok(resolved.sort((a, b) => a.timeS - b.timeS));
};

/** [section 5.1.7, first example] a record of base fields only sets them for those after it and measures nothing. */
const isBaseOnly = (fields: Fields): boolean =>
  Object.keys(fields).some((label) => BASE_FIELDS.includes(label)) &&
  !Object.keys(fields).some((label) => KNOWN_FIELDS.includes(label) && !BASE_FIELDS.includes(label));

/** [section 4.4] a label that ends in `_` must be understood, or the pack is not used. */
const mustUnderstand = (fields: Fields, record: number): Malformed | undefined => {
  const field = Object.keys(fields).find((label) => label.endsWith('_'));
  return field === undefined ? undefined : malformed('senml-must-understand', { record, field: field.slice(0, 80) });
};

/** [section 4.4] one version in a pack, and none above ours. */
const versionFault = (base: Fields, { bver }: Fields, record: number): Malformed | undefined => {
  if (typeof bver !== 'number') return undefined;
  if (bver > VERSION) return malformed('senml-version', { version: bver });
  return base.bver !== undefined && base.bver !== bver ? malformed('senml-versions-mixed', { record }) : undefined;
};

type At = { readonly record: number; readonly nowS: number };

const resolveRecord = (base: Fields, fields: Fields, { record, nowS }: At): Result<SenmlRecord, Malformed> => {
  const present = VALUE_FIELDS.filter((field) => fields[field] !== undefined);
  // [section 4.2] exactly one value; with a sum it may be missing.
  if (present.length > 1) return fault(malformed('senml-several-values', { record }));
  if (present.length === 0 && fields.s === undefined) return fault(malformed('senml-no-value', { record }));
  // [section 4.5.1] base name and name, joined; never empty.
  const name = `${textOr(base.bn)}${textOr(fields.n)}`;
  if (name === '') return fault(malformed('senml-name-missing', { record }));
  if (!NAME.test(name)) return fault(malformed('senml-name', { record, name: name.slice(0, 80) }));
  const sentTimeS = numberOr(base.bt) + numberOr(fields.t);
  const unit = fields.u ?? base.bu;
  const value = senmlValueOf(fields, numberOr(base.bv));
  const sum = fields.s === undefined && base.bs === undefined ? undefined : numberOr(base.bs) + numberOr(fields.s);
  // Two finite numbers may add up to none.
  if (![sentTimeS, sum ?? 0, value?.kind === 'number' ? value.number : 0].every(Number.isFinite)) {
    return fault(malformed('number-not-finite', { text: name.slice(0, 80) }));
  }
  return ok({
    name,
    timeS: sentTimeS < RELATIVE_BELOW_S ? nowS + sentTimeS : sentTimeS,
    sentTimeS,
    unknown: Object.fromEntries(Object.entries(fields).filter(([label]) => !KNOWN_FIELDS.includes(label))),
    ...(typeof unit === 'string' ? { unit } : {}),
    ...(value === undefined ? {} : { value }),
    ...(sum === undefined ? {} : { sum }),
    ...(typeof fields.ut === 'number' ? { updateS: fields.ut } : {}),
    ...(typeof base.bver === 'number' && base.bver !== VERSION ? { version: base.bver } : {}),
  });
};

/** [section 4.5.4] the base value is added to numbers only. */
const senmlValueOf = ({ v, vs, vb, vd }: Fields, baseValue: number): SenmlValue | undefined => {
  if (typeof v === 'number') return { kind: 'number', number: v + baseValue };
  if (typeof vs === 'string') return { kind: 'text', text: vs };
  if (typeof vb === 'boolean') return { kind: 'boolean', boolean: vb };
  return typeof vd === 'string' ? { kind: 'binary', base64url: vd } : undefined;
};

const textOr = (field: unknown): string => (typeof field === 'string' ? field : '');
const numberOr = (field: unknown): number => (typeof field === 'number' ? field : 0);
