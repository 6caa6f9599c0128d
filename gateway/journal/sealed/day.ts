import { crc32 } from 'node:zlib';
import { buildByteReader, buildByteWriter } from './bytes.js';
import { openColumn, sealColumn } from './column.js';

/**
 * One source's readings of one UTC day, column by column, in order of device time and variant. `delayMs` is arrival minus
 * device time; `refusedMs` is NaN where the board's own stamp counted or where there was none.
 */
export type DayColumns = {
  readonly deviceMs: Float64Array;
  readonly variant: Float64Array;
  readonly delayMs: Float64Array;
  readonly raw: Float64Array;
  readonly flags: Float64Array;
  readonly refusedMs: Float64Array;
};

const LAYOUT = 1;

/** The day as one run of bytes, its checksum before it. Check value: tests/gateway/journal/sealed/day.test.ts. */
export const sealDay = (day: DayColumns): Buffer => {
  const { deviceMs, variant, delayMs, raw, flags, refusedMs } = day;
  const writer = buildByteWriter();
  const [first, paceMs, places] = [deviceMs[0] ?? 0, paceOf(deviceMs), placesOf(deviceMs)];
  writer.whole(deviceMs.length);
  writer.double(first);
  writer.whole(paceMs);
  const columns = [
    deviceMs.map((atMs, n) => atMs - first - n * paceMs),
    variant.map((one, n) => one - (places[n] ?? 0)),
    ...[delayMs, raw, flags],
    refusedMs.map((stampMs, n) => stampMs - (deviceMs[n] ?? 0)),
  ].map(sealColumn);
  for (const column of columns) {
    writer.whole(column.length);
    writer.bytes(column);
  }
  const body = writer.done();
  const head = buildByteWriter();
  head.byte(LAYOUT);
  head.whole(crc32(body));
  head.bytes(body);
  return head.done();
};

/** Columns are opened when they are asked for: a chart needs three of the six. */
export const openDay = (bytes: Buffer): DayColumns => {
  const body = checked(bytes);
  const reader = buildByteReader(body);
  const length = reader.whole();
  const [first, paceMs] = [reader.double(), reader.whole()];
  const columns = Array.from({ length: 6 }, () => reader.bytes(reader.whole()));
  const at = (place: number): Float64Array => openColumn(columns[place] ?? Buffer.alloc(0), length);
  const deviceMs = once(() => at(0).map((offMs, n) => first + n * paceMs + offMs));
  const variant = once(() => added(at(1), placesOf(deviceMs())));
  const [delayMs, raw, flags] = [once(() => at(2)), once(() => at(3)), once(() => at(4))];
  const refusedMs = once(() => added(at(5), deviceMs()));
  return {
    get deviceMs() {
      return deviceMs();
    },
    get variant() {
      return variant();
    },
    get delayMs() {
      return delayMs();
    },
    get raw() {
      return raw();
    },
    get flags() {
      return flags();
    },
    get refusedMs() {
      return refusedMs();
    },
  };
};

const checked = (bytes: Buffer): Buffer => {
  const reader = buildByteReader(bytes);
  const layout = reader.byte();
  if (layout !== LAYOUT) throw new RangeError(`Sealed in a layout that this program does not know: ${layout}.`);
  const sum = reader.whole();
  const body = reader.rest();
  if (crc32(body) !== sum) throw new RangeError('A sealed day is damaged: its checksum is another.');
  return body;
};

const added = (one: Float64Array, other: Float64Array): Float64Array => one.map((value, n) => value + (other[n] ?? 0));

const once = <T>(make: () => T): (() => T) => {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
};

/** The spacing in the middle of all spacings: a board that keeps its rhythm needs next to nothing for its times. */
const paceOf = (deviceMs: Float64Array): number => {
  const spacings = deviceMs.slice(1).map((atMs, n) => atMs - (deviceMs[n] ?? 0));
  return spacings.sort()[Math.floor(spacings.length / 2)] ?? 0;
};

/** How many readings of the same millisecond come before each: what a variant is, unless somebody has numbered otherwise. */
const placesOf = (deviceMs: Float64Array): Float64Array => {
  let place = 0;
  return deviceMs.map((atMs, n) => {
    place = n > 0 && deviceMs[n - 1] === atMs ? place + 1 : 0;
    return place;
  });
};
