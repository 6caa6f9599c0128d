import { decode, type TagDecoder } from 'cborg';
import { fault, ok, type Result } from '../../rules/result.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import { CBOR_LABELS } from './senml-field.js';

/** A pack in CBOR begins with an array of definite or indefinite length; no text in UTF-8 begins with such a byte. */
export const isCborPack = (firstByte: number | undefined): boolean =>
  firstByte !== undefined && firstByte >= 0x80 && firstByte <= 0x9f;

/** [RFC 8428 section 6] a number may be a decimal fraction (tag 4, RFC 8949 section 3.4.4): [exponent, mantissa]. */
const decimalFraction: TagDecoder = (content) => {
  const parts: unknown = content();
  if (!Array.isArray(parts) || parts.length !== 2 || !parts.every(Number.isInteger)) {
    throw new Error('tag 4 is not [exponent, mantissa]');
  }
  // Reading the decimal text gives the nearest double; multiplying by a power of ten would not.
  return Number(`${parts[1]}e${parts[0]}`);
};

/** The records of a CBOR pack under their JSON labels, `vd` as base64url, so that one resolution serves both forms. */
export const parseCborPack = (payload: Uint8Array, depthLimit: number): Result<unknown, Malformed> => {
  try {
    const pack: unknown = decode(payload, {
      useMaps: true,
      rejectDuplicateMapKeys: true,
      allowUndefined: false,
      allowNaN: false,
      allowInfinity: false,
      allowBigInt: false,
      tags: { 4: decimalFraction },
    });
    if (depthOf(pack, depthLimit) > depthLimit) return fault(malformed('too-deep', { limit: depthLimit }));
    return ok(Array.isArray(pack) ? pack.map(labelled) : pack);
  } catch (error) {
    // Thousands of nested arrays overflow the stack of the decoder before their depth can be measured.
    if (error instanceof RangeError) return fault(malformed('too-deep', { limit: depthLimit }));
    return fault(malformed('cbor-broken', { reason: reasonOf(error) }));
  }
};

const labelled = (record: unknown): unknown => {
  if (!(record instanceof Map)) return record;
  const fields = [...record].map(([label, value]): readonly [string, unknown] => [
    (typeof label === 'number' ? CBOR_LABELS[label] : undefined) ?? String(label),
    value instanceof Uint8Array ? Buffer.from(value).toString('base64url') : value,
  ]);
  if (new Set(fields.map(([label]) => label)).size < fields.length) throw new Error('a label stands twice');
  return Object.fromEntries(fields);
};

/** Levels of nesting, counted no further than one beyond the limit. */
const depthOf = (value: unknown, limit: number): number => {
  const inner = Array.isArray(value) ? value : value instanceof Map ? [...value.values()] : undefined;
  if (inner === undefined) return 0;
  return limit === 0 ? 1 : 1 + Math.max(0, ...inner.map((each) => depthOf(each, limit - 1)));
};

const reasonOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replace(/^CBOR decode error: /, '').slice(0, 120);
