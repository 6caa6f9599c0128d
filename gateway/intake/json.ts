import { fault, ok, type Result } from '../../rules/result.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import {
  type Decoded,
  type DeviceTime,
  excerpt,
  type Item,
  type OddityTally,
  type Parcel,
  refused,
  tallyOddities,
} from './decoded.js';
import { stampFromJson } from './device-time.js';
import { shapeFault } from './json-shape.js';
import { parseNumber, plain } from './number.js';

/** The fields that may carry the board's own time, the first present one counts. */
const TIME_FIELDS = ['ts', 'time', 'timestamp'] as const;

/** JSON within the limits, every object with each key once. */
export const parseJson = (text: string, depthLimit: number): Result<unknown, Malformed> => {
  try {
    const value: unknown = JSON.parse(text);
    if (isPlainlyFlat(value, text)) return ok(value);
    const shape = shapeFault(text, depthLimit);
    return shape === undefined ? ok(value) : fault(shape);
  } catch {
    return fault(malformed('json-broken', { text: excerpt(text) }));
  }
};

/**
 * One object of plain values in which no key can stand twice: there is a comma between any two members, so as many
 * commas as the object that was read has gaps leave none for a member that was lost.
 */
const isPlainlyFlat = (value: unknown, text: string): boolean => {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  const members = Object.values(value);
  for (const member of members) if (typeof member === 'object' && member !== null) return false;
  return commasIn(text) === members.length - 1;
};

const commasIn = (text: string): number => {
  let count = 0;
  for (let at = text.indexOf(','); at >= 0; at = text.indexOf(',', at + 1)) count += 1;
  return count;
};

/** A JSON object: every number in it is a source of its own, named by its JSON Pointer (RFC 6901). */
export const decodeJson = (text: string, parcel: Parcel): Decoded => {
  const parsed = parseJson(text, parcel.limits.depth);
  if (!parsed.ok) return refused(parsed.fault.code, parsed.fault.parameters);
  const fields = Object.entries(parsed.value as Readonly<Record<string, unknown>>);
  const oddities = tallyOddities();
  const time = deviceTime(new Map(fields), oddities);
  const leaves = fields.filter(([name]) => !isTimeField(name)).flatMap(([name, value]) => leavesOf(step(name), value));
  const { records } = parcel.limits;
  if (leaves.length > records) return refused('too-many-records', { records: leaves.length, limit: records });
  const items = leaves.flatMap(([pointer, value]) => {
    const raw = readingOf(value, pointer, oddities);
    return raw === undefined ? [] : [itemOf(pointer, raw, time, parcel)];
  });
  return { kind: 'readings', items, oddities: oddities.all() };
};

type Leaf = readonly [pointer: string, value: unknown];

const leavesOf = (pointer: string, value: unknown): readonly Leaf[] =>
  typeof value === 'object' && value !== null
    ? Object.entries(value).flatMap(([name, inner]) => leavesOf(pointer + step(name), inner))
    : [[pointer, value]];

/** [RFC 6901 section 3] `~` is written `~0` and `/` is written `~1`. */
const step = (name: string): string =>
  name.includes('~') || name.includes('/') ? `/${name.replaceAll('~', '~0').replaceAll('/', '~1')}` : `/${name}`;

const readingOf = (value: unknown, pointer: string, oddities: OddityTally): number | undefined => {
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (typeof value === 'number' && Number.isFinite(value)) return plain(value);
  const where = pointer.slice(0, 80);
  if (typeof value === 'string') {
    const number = parseNumber(value);
    oddities.add(number.ok ? 'number-as-text' : 'text-ignored', { where });
    return number.ok ? number.value : undefined;
  }
  oddities.add(value === null ? 'value-missing' : 'value-not-finite', { where });
  return undefined;
};

const isTimeField = (name: string): boolean => (TIME_FIELDS as readonly string[]).includes(name);

const deviceTime = (fields: ReadonlyMap<string, unknown>, oddities: OddityTally): DeviceTime | undefined => {
  const name = TIME_FIELDS.find((field) => fields.has(field));
  if (name === undefined) return undefined;
  const sent = fields.get(name);
  const time = stampFromJson(sent);
  if (time === undefined) oddities.add('time-not-understood', { text: excerpt(String(JSON.stringify(sent))) });
  return time;
};

const itemOf = (pointer: string, raw: number, time: DeviceTime | undefined, { topic, board }: Parcel): Item => ({
  key: `${topic}#${pointer}`,
  topic,
  pointer,
  raw,
  ...(board === undefined ? {} : { board }),
  ...(time === undefined ? {} : { time }),
});
