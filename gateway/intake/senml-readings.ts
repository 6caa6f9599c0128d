import {
  type Decoded,
  type DeviceTime,
  type Item,
  type OddityTally,
  type Parcel,
  refused,
  tallyOddities,
} from './decoded.js';
import { agedFromSeconds, stampFromSeconds } from './device-time.js';
import { plain } from './number.js';
import { RELATIVE_BELOW_S, resolveSenml, type SenmlRecord } from './senml.js';
import { unitStanding } from './senml-unit.js';

/** The readings of a SenML pack, oldest first. Each name, with its unit where stated, is a source of its own. */
export const decodeSenml = (pack: unknown, parcel: Parcel): Decoded => {
  const { records } = parcel.limits;
  if (Array.isArray(pack) && pack.length > records) {
    return refused('too-many-records', { records: pack.length, limit: records });
  }
  const resolved = resolveSenml(pack, parcel.arrivalMs / 1000);
  if (!resolved.ok) return refused(resolved.fault.code, resolved.fault.parameters);
  const oddities = tallyOddities();
  const items = resolved.value.flatMap((record) => {
    const raw = readingOf(record, oddities);
    return raw === undefined ? [] : [itemOf(record, raw, parcel, oddities)];
  });
  return { kind: 'readings', items, oddities: oddities.all() };
};

const readingOf = ({ name, value, sum }: SenmlRecord, oddities: OddityTally): number | undefined => {
  if (sum !== undefined) oddities.add('sum-ignored', { where: name });
  if (value?.kind === 'number') return plain(value.number);
  if (value?.kind === 'boolean') return value.boolean ? 1 : 0;
  if (value !== undefined) oddities.add('text-ignored', { where: name });
  return undefined;
};

const itemOf = (record: SenmlRecord, raw: number, { topic, board, arrivalMs }: Parcel, oddities: OddityTally): Item => {
  const unit = statedUnit(record.unit, oddities);
  const time = deviceTime(record.sentTimeS, arrivalMs, oddities);
  return {
    key: `${topic}#${record.name}${unit === undefined ? '' : `@${unit}`}`,
    topic,
    pointer: record.name,
    raw,
    ...(board === undefined ? {} : { board }),
    ...(unit === undefined ? {} : { statedUnit: unit }),
    ...(time === undefined ? {} : { time }),
    ...(record.updateS === undefined ? {} : { nextWithinMs: Math.round(record.updateS * 1000) }),
  };
};

/** [RFC 8428 section 12.1] `%` is the old spelling of `/`: the ratio 0.98, not 98. */
const statedUnit = (unit: string | undefined, oddities: OddityTally): string | undefined => {
  if (unit === undefined || unit === '') return undefined;
  if (unit === '%') {
    oddities.add('percent-is-ratio', {});
    return '/';
  }
  const standing = unitStanding(unit);
  if (standing !== 'registered') {
    oddities.add(standing === 'understood' ? 'unit-not-senml' : 'unknown-unit', { unit: unit.slice(0, 40) });
  }
  return unit;
};

/** [RFC 8428 section 4.5.3] no time, or 0, says "now": then the arrival is the time. */
const deviceTime = (sentTimeS: number, arrivalMs: number, oddities: OddityTally): DeviceTime | undefined => {
  if (sentTimeS === 0) return undefined;
  const time = sentTimeS < RELATIVE_BELOW_S ? agedFromSeconds(sentTimeS, arrivalMs) : stampFromSeconds(sentTimeS);
  if (time === undefined) oddities.add('time-not-understood', { text: String(sentTimeS) });
  return time;
};
