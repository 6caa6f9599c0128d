import { Duplex, Transform, type TransformCallback } from 'node:stream';
import { KEPT_BYTES } from './malformed-message.js';

/** A packet above this is cut while it arrives, so that no board can fill the memory. Readings are refused far below. */
const CUT_ABOVE = 256 * 1024;
const PUBLISH = 3;
const MARK = '$too-large/';

/** The size and the topic that a cut message had, or undefined for a topic of a board's own. */
export const cutMessage = (topic: string): { readonly bytes: number; readonly topic: string } | undefined => {
  const parts = /^\$too-large\/(\d+)\/(.*)$/s.exec(topic);
  return parts === null ? undefined : { bytes: Number(parts[1]), topic: parts[2] ?? '' };
};

/**
 * The connection as the broker may read it: an overlong PUBLISH becomes a short one of the same QoS and packet id, with
 * the first bytes of its payload and the size in its topic, so that it is acknowledged and counted instead of coming
 * again for ever. Any other overlong packet ends the connection.
 */
export const boundPackets = (connection: Duplex, cutAbove: number = CUT_ABOVE): Duplex =>
  Duplex.from({ readable: connection.pipe(cutter(cutAbove)), writable: connection });

const cutter = (cutAbove: number): Transform => {
  let held: Buffer = Buffer.alloc(0);
  let passing = 0;
  let dropping = 0;
  const transform = function (this: Transform, chunk: Buffer, _encoding: string, done: TransformCallback): void {
    let rest = held.length === 0 ? chunk : Buffer.concat([held, chunk]);
    held = Buffer.alloc(0);
    while (rest.length > 0) {
      if (passing > 0) {
        const part = rest.subarray(0, passing);
        this.push(part);
        passing -= part.length;
        rest = rest.subarray(part.length);
      } else if (dropping > 0) {
        const part = Math.min(dropping, rest.length);
        dropping -= part;
        rest = rest.subarray(part);
      } else {
        const next = nextPacket(rest, cutAbove);
        if (next === 'incomplete') {
          held = rest;
          break;
        }
        if (next === 'refused') return done(new Error('packet too large or broken'));
        passing = next.pass;
        dropping = next.drop;
        if (next.instead !== undefined) this.push(next.instead);
      }
    }
    done();
  };
  return new Transform({ transform });
};

type NextPacket = { readonly pass: number; readonly drop: number; readonly instead?: Buffer };

const nextPacket = (bytes: Buffer, cutAbove: number): NextPacket | 'incomplete' | 'refused' => {
  const length = remainingLength(bytes);
  if (length === undefined) return bytes.length < 5 ? 'incomplete' : 'refused';
  const size = length.bytes + length.value;
  if (size <= cutAbove) return { pass: size, drop: 0 };
  return (bytes[0] ?? 0) >> 4 === PUBLISH ? shortened(bytes, length.bytes, size) : 'refused';
};

/** [MQTT 3.1.1 section 2.2.3] seven bits a byte, lowest first, at most four bytes. */
const remainingLength = (bytes: Buffer): { readonly value: number; readonly bytes: number } | undefined => {
  let value = 0;
  for (let at = 1; at <= 4; at += 1) {
    const byte = bytes[at];
    if (byte === undefined) return undefined;
    value += (byte & 0x7f) * 128 ** (at - 1);
    if (byte < 0x80) return { value, bytes: at + 1 };
  }
  return undefined;
};

const shortened = (bytes: Buffer, header: number, size: number): NextPacket | 'incomplete' | 'refused' => {
  if (bytes.length < header + 2) return 'incomplete';
  const topicEnd = header + 2 + bytes.readUInt16BE(header);
  const payloadStart = topicEnd + (((bytes[0] ?? 0) & 0b110) === 0 ? 0 : 2);
  const taken = payloadStart + KEPT_BYTES;
  if (bytes.length < taken) return 'incomplete';
  const topic = Buffer.concat([Buffer.from(`${MARK}${size - payloadStart}/`), bytes.subarray(header + 2, topicEnd)]);
  if (topic.length > 0xffff) return 'refused';
  const body = Buffer.concat([uint16(topic.length), topic, bytes.subarray(topicEnd, taken)]);
  const instead = Buffer.concat([bytes.subarray(0, 1), lengthBytes(body.length), body]);
  // What was read of the packet already is dropped with the rest of it.
  return { pass: 0, drop: size, instead };
};

const uint16 = (value: number): Buffer => Buffer.from([value >> 8, value & 0xff]);

const lengthBytes = (value: number): Buffer =>
  value < 128
    ? Buffer.from([value])
    : Buffer.concat([Buffer.from([(value % 128) | 0x80]), lengthBytes(Math.floor(value / 128))]);
