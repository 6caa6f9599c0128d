import { type Malformed, malformed } from '../../rules/wire/malformed.js';

/** A SenML record as sent, under its JSON labels. */
export type Fields = Readonly<Record<string, unknown>>;

export const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isText = (value: unknown): boolean => typeof value === 'string';
const isNumber = (value: unknown): boolean => typeof value === 'number' && Number.isFinite(value);
const isVersion = (value: unknown): boolean => Number.isInteger(value) && Number(value) > 0;
const isBase64Url = (value: unknown): boolean => typeof value === 'string' && /^[A-Za-z0-9\-_]*$/.test(value);

/** [RFC 8428 tables 1 and 2] the type of each field; `vd` is base64url without padding. */
const TYPES: Readonly<Record<string, (value: unknown) => boolean>> = {
  bn: isText,
  bt: isNumber,
  bu: isText,
  bv: isNumber,
  bs: isNumber,
  bver: isVersion,
  n: isText,
  u: isText,
  v: isNumber,
  vs: isText,
  vb: (value) => typeof value === 'boolean',
  s: isNumber,
  t: isNumber,
  ut: isNumber,
  vd: isBase64Url,
};

/** [RFC 8428 table 4] the label of each field in CBOR. */
export const CBOR_LABELS: Readonly<Record<number, string>> = {
  [-1]: 'bver',
  [-2]: 'bn',
  [-3]: 'bt',
  [-4]: 'bu',
  [-5]: 'bv',
  [-6]: 'bs',
  0: 'n',
  1: 'u',
  2: 'v',
  3: 'vs',
  4: 'vb',
  5: 's',
  6: 't',
  7: 'ut',
  8: 'vd',
};

/** The first field of the wrong type; a missing value is not sent as null. */
export const fieldFault = (fields: Fields, record: number): Malformed | undefined => {
  const wrong = Object.entries(fields).find(([label, value]) => {
    const type = Object.hasOwn(TYPES, label) ? TYPES[label] : undefined;
    return type !== undefined && !type(value);
  });
  return wrong === undefined ? undefined : malformed('senml-wrong-type', { record, field: wrong[0] });
};
