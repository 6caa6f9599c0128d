import { boardTopic, statusTopic, tankTopic } from '../rules/wire/topic.js';
import type { Batch, Board, Sample } from './board.js';
import { type Probe, placeName } from './probe.js';
import { makeSenmlCbor, makeSenmlJson, type SenmlRecord, senmlUnit, senmlValue } from './senml.js';

/**
 * One publish. A `birth` is the retained "online" after connecting; a `will` is the retained "offline" that the broker
 * sends for a board whose line has died.
 */
export type Message = {
  readonly board: string;
  readonly kind: 'reading' | 'birth' | 'will';
  readonly topic: string;
  readonly payload: string | Uint8Array;
  readonly qos: 0 | 1;
  readonly retain: boolean;
};

/**
 * Where a probe's readings are found: the topic, within the payload a JSON Pointer or SenML name, and the unit that the
 * payload itself states.
 */
export type Source = { readonly topic: string; readonly member: string | undefined; readonly unit: string | undefined };

export const birthOf = (board: Board): Message => statusOf(board, 'birth', 'online');
export const willOf = (board: Board): Message => statusOf(board, 'will', 'offline');

export const sourceOf = (board: Board, probe: Probe): Source => {
  const place = placeName(probe.place);
  switch (board.form) {
    case 'bare':
      return { topic: tankTopic(place, probe.quantity), member: undefined, unit: undefined };
    case 'object':
      return { topic: boardTopic(board.id, 'readings'), member: `/${memberOf(probe)}`, unit: undefined };
    case 'senml-json':
    case 'senml-cbor':
      return {
        topic: boardTopic(board.id, 'senml'),
        member: `${board.id}/${place}/${probe.quantity}`,
        unit: senmlUnit(probe.quantity),
      };
  }
};

/** The name under which an unnamed source is kept: topic, `#` and member, `@` and stated unit. */
export const sourceKey = ({ topic, member, unit }: Source): string =>
  `${topic}${member === undefined ? '' : `#${member}`}${unit === undefined ? '' : `@${unit}`}`;

/**
 * The messages that carry these rounds of readings. A SenML board sends a backlog in packs of several rounds, the others
 * one round at a time.
 */
export const messagesOf = (board: Board, batches: readonly Batch[], atMs: number): readonly Message[] => {
  const full = batches.filter(({ samples }) => samples.length > 0);
  switch (board.form) {
    case 'bare':
      return full.flatMap(({ samples }) => samples.map((sample) => bare(board, sample)));
    case 'object':
      return full.map((batch) => reading(board, boardTopic(board.id, 'readings'), objectOf(board, batch)));
    case 'senml-json':
      return packs(board, full).map((pack) =>
        reading(board, boardTopic(board.id, 'senml'), makeSenmlJson(packOf(board, pack, atMs))),
      );
    case 'senml-cbor':
      return packs(board, full).map((pack) =>
        reading(board, boardTopic(board.id, 'senml'), makeSenmlCbor(packOf(board, pack, atMs))),
      );
  }
};

/** A small board has memory for so many records in one pack. */
const PACK_RECORDS = 300;

const packs = (board: Board, batches: readonly Batch[]): readonly (readonly Batch[])[] => {
  const rounds = Math.max(1, Math.floor(PACK_RECORDS / Math.max(1, board.probes.length)));
  const count = Math.ceil(batches.length / rounds);
  return Array.from({ length: count }, (_, i) => batches.slice(i * rounds, (i + 1) * rounds));
};

const reading = (board: Board, topic: string, payload: string | Uint8Array): Message => ({
  board: board.id,
  kind: 'reading',
  topic,
  payload,
  qos: 1,
  retain: false,
});

const statusOf = (board: Board, kind: 'birth' | 'will', payload: string): Message => ({
  board: board.id,
  kind,
  topic: statusTopic(board.id),
  payload,
  qos: 1,
  retain: true,
});

const bare = (board: Board, { probe, value }: Sample): Message =>
  reading(board, sourceOf(board, probe).topic, String(value));

/** Members have no slash in them, so that a JSON Pointer (RFC 6901) to one needs no escape. */
const memberOf = (probe: Probe): string => `${placeName(probe.place)}_${probe.quantity}`;

const objectOf = (board: Board, { samples, stampMs }: Batch): string => {
  const members = samples.map(({ probe, value }) => [memberOf(probe), value]);
  const stamp = stampMs === undefined ? [] : [['ts', inStampUnit(board, stampMs)]];
  return JSON.stringify(Object.fromEntries([...stamp, ...members]));
};

const inStampUnit = (board: Board, stampMs: number): number =>
  board.stamps === 'seconds' ? Math.round(stampMs / 1000) : Math.round(stampMs);

/**
 * Base time is the newest round; older rounds lie before it (negative times). A board without a clock leaves the base
 * time out, and its times then count from the moment of arrival (RFC 8428 section 4.5.3).
 */
const packOf = (board: Board, batches: readonly Batch[], atMs: number): readonly SenmlRecord[] => {
  const newest = batches.at(-1);
  const baseMs = newest?.stampMs;
  const records = batches.flatMap(({ samples, stampMs, takenMs }) => {
    const t = (baseMs === undefined || stampMs === undefined ? takenMs - atMs : stampMs - baseMs) / 1000;
    return samples.map(
      ({ probe, value }): SenmlRecord => ({
        n: `${placeName(probe.place)}/${probe.quantity}`,
        ...senmlValue(probe, value),
        ...(t === 0 ? {} : { t }),
      }),
    );
  });
  const base: SenmlRecord = { bn: `${board.id}/`, ...(baseMs === undefined ? {} : { bt: baseMs / 1000 }) };
  return records.map((record, index) => (index === 0 ? { ...base, ...record } : record));
};
