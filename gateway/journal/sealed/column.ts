import { inflateRawSync } from 'node:zlib';
import { type ByteReader, buildByteReader, buildByteWriter } from './bytes.js';
import { FORECASTS, type Forecast, missesOf, wholesOf } from './forecast.js';
import { deflated, packed, packedSize, unpacked } from './packed.js';
import { type Scaled, scaleOf, stepOf, unscaled } from './scale.js';

/** How a column of doubles is written. Part of the file: numbers are never reused. */
const FORM = { scaled: 1, scaledSingle: 2, table: 3, bits: 4 } as const;

/** A longer table would cost more than it saves. */
const LONGEST_TABLE = 64;

/** Writes doubles so that every one comes back as the same bits; finite or NaN. */
export const sealColumn = (values: Float64Array): Buffer => {
  const scaled = scaleOf(values);
  const asScaled = scaled === undefined ? undefined : sealScaled(scaled, values);
  const table = scaled !== undefined && isNarrow(scaled) ? undefined : tableOf(values);
  const asTable = table === undefined ? undefined : sealTable(table, values);
  if (asScaled === undefined) return asTable ?? sealBits(values);
  return asTable !== undefined && asTable.length < asScaled.length ? asTable : asScaled;
};

/** So that every number fits into one byte: no table could be shorter. */
const isNarrow = ({ wholes, odd }: Scaled): boolean => {
  if (odd.length > 0) return false;
  let least = wholes[0] ?? 0;
  let most = least;
  for (let n = 0; n < wholes.length; n += 1) {
    const whole = wholes[n] ?? 0;
    if (whole < least) least = whole;
    if (whole > most) most = whole;
  }
  return most - least < 128 * Math.max(1, stepOf(wholes));
};

/** The inverse of `sealColumn` for a column of known length. */
export const openColumn = (bytes: Buffer, length: number): Float64Array => {
  const reader = buildByteReader(bytes);
  const form = reader.byte();
  switch (form) {
    case FORM.scaled:
    case FORM.scaledSingle:
      return openScaled(reader, length, form === FORM.scaledSingle);
    case FORM.table:
      return openTable(reader, length);
    case FORM.bits:
      return openBits(reader, length);
    default:
      throw new RangeError(`Sealed in a form that this program does not know: ${form}.`);
  }
};

const sealScaled = ({ single, digits, wholes, odd }: Scaled, values: Float64Array): Buffer => {
  const writer = buildByteWriter();
  const first = wholes[0] ?? 0;
  const step = stepOf(wholes);
  writer.byte(single ? FORM.scaledSingle : FORM.scaled);
  writer.byte(digits);
  writer.double(first);
  writer.whole(step);
  writer.whole(odd.length);
  for (const place of odd) {
    writer.whole(place);
    writer.double(values[place] ?? 0);
  }
  if (step !== 0) writer.bytes(sealWholes(wholes.map((whole) => (whole - first) / step)));
  return writer.done();
};

const openScaled = (reader: ByteReader, length: number, single: boolean): Float64Array => {
  const digits = reader.byte();
  const first = reader.double();
  const step = reader.whole();
  const odd = Array.from({ length: reader.whole() }, () => [reader.whole(), reader.double()] as const);
  const steps = step === 0 ? new Float64Array(length) : openWholes(reader, length);
  const values = unscaled(steps, { first, step, single, digits });
  for (const [place, value] of odd) values[place] = value;
  return values;
};

/** The forecast that needs the fewest bytes, and what it missed. */
const sealWholes = (wholes: Float64Array): Buffer => {
  const middle = Math.round(wholes.reduce((sum, whole) => sum + whole / wholes.length, 0));
  const tried = FORECASTS.map((forecast) => ({ forecast, misses: missesOf(wholes, forecast, middle) }));
  const best = tried
    .map((one) => ({ ...one, size: packedSize(one.misses) }))
    .reduce((least, one) => (one.size < least.size ? one : least));
  const writer = buildByteWriter();
  const bytes = packed(best.misses);
  writer.byte(FORECASTS.indexOf(best.forecast));
  writer.double(middle);
  writer.whole(bytes.length);
  writer.bytes(bytes);
  return writer.done();
};

const openWholes = (reader: ByteReader, length: number): Float64Array => {
  const forecast: Forecast | undefined = FORECASTS[reader.byte()];
  if (forecast === undefined) throw new RangeError('Sealed by a forecast that this program does not know.');
  const middle = reader.double();
  return wholesOf(unpacked(reader.bytes(reader.whole()), length), forecast, middle);
};

/** Different values by the number of the first place that has them; undefined when there are too many. */
const tableOf = (values: Float64Array): ReadonlyMap<bigint, number> | undefined => {
  const bits = new BigUint64Array(values.buffer, values.byteOffset, values.length);
  const table = new Map<bigint, number>();
  let before: bigint | undefined;
  for (const one of bits) {
    if (one === before) continue;
    before = one;
    if (!table.has(one)) table.set(one, table.size);
    if (table.size > LONGEST_TABLE) return undefined;
  }
  return table;
};

const sealTable = (table: ReadonlyMap<bigint, number>, values: Float64Array): Buffer => {
  const bits = new BigUint64Array(values.buffer, values.byteOffset, values.length);
  const writer = buildByteWriter();
  writer.byte(FORM.table);
  writer.whole(table.size);
  writer.bytes(new Uint8Array(BigUint64Array.from(table.keys()).buffer));
  if (table.size > 1) {
    const bytes = packed(Float64Array.from(bits, (one) => table.get(one) ?? 0));
    writer.whole(bytes.length);
    writer.bytes(bytes);
  }
  return writer.done();
};

const openTable = (reader: ByteReader, length: number): Float64Array => {
  const table = Float64Array.from({ length: reader.whole() }, () => reader.double());
  if (table.length === 1) return new Float64Array(length).fill(table[0] ?? 0);
  return unpacked(reader.bytes(reader.whole()), length).map((place) => table[place] ?? Number.NaN);
};

const DOUBLE_BYTES = 8;

/** All first bytes, all second bytes and so on: sign and exponent seldom change and then cost next to nothing. */
const sealBits = (values: Float64Array): Buffer => {
  const from = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
  const planes = from.map((_, n) => from[(n % values.length) * DOUBLE_BYTES + Math.floor(n / values.length)] ?? 0);
  const bytes = deflated(planes);
  const writer = buildByteWriter();
  writer.byte(FORM.bits);
  writer.whole(bytes.length);
  writer.bytes(bytes);
  return writer.done();
};

const openBits = (reader: ByteReader, length: number): Float64Array => {
  const planes = inflateRawSync(reader.bytes(reader.whole()));
  const values = new Float64Array(length);
  const to = new Uint8Array(values.buffer);
  for (let n = 0; n < to.length; n += 1) to[(n % length) * DOUBLE_BYTES + Math.floor(n / length)] = planes[n] ?? 0;
  return values;
};
