import { isStampAccepted } from '../../rules/quality/date.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import { parseTopic } from '../../rules/wire/topic.js';
import { type Decoded, excerpt, type Item, LIMITS, type Limits, type Oddity, type Parcel, refused } from './decoded.js';
import type { Delivery } from './delivery.js';
import { decodeJson, parseJson } from './json.js';
import { decodeNumber } from './number.js';
import { isCborPack, parseCborPack } from './senml-cbor.js';
import { decodeSenml } from './senml-readings.js';

type Message = Pick<Delivery, 'topic' | 'payload' | 'arrivalMs' | 'board' | 'refusal'>;

/**
 * What a message says, from its topic and payload alone. The form is told by the first byte: a CBOR array is SenML, `[`
 * is SenML in JSON, `{` is JSON, anything else must be one number. Never throws, whatever the bytes.
 */
export const decode = (message: Message, limits: Limits = LIMITS): Decoded => {
  const { topic, payload, arrivalMs, refusal } = message;
  if (refusal !== undefined) return refused(refusal.code, refusal.parameters);
  if (payload.length === 0) return { kind: 'empty' };
  if (payload.length > limits.bytes) {
    return refused('payload-too-large', { bytes: payload.length, limit: limits.bytes });
  }
  const address = parseTopic(topic);
  if (address.kind === 'board-status') return decodeStatus(payload, address.board);
  const board = address.kind === 'board' ? address.board : message.board;
  const decoded = decodePayload(payload, { topic, arrivalMs, limits, ...(board === undefined ? {} : { board }) });
  if (decoded.kind !== 'readings') return decoded;
  const unknown =
    address.kind === 'tank-unknown-quantity'
      ? [{ ...malformed('unknown-quantity', { word: excerpt(address.word) }), count: 1 }]
      : NOTHING_ODD;
  const wrong = unbelieved(decoded.items, arrivalMs);
  if (wrong.length === 0 && unknown.length === 0) return decoded;
  return { ...decoded, oddities: [...decoded.oddities, ...wrong, ...unknown] };
};

const NOTHING_ODD: readonly Oddity[] = [];

/** Whether a stamp counts is for the rules to say; a board whose clock is wrong is told at its first message. */
const unbelieved = (items: readonly Item[], arrivalMs: number): readonly Oddity[] => {
  if (items.every(({ time }) => time?.kind !== 'stamped' || isStampAccepted(time.deviceMs, arrivalMs)))
    return NOTHING_ODD;
  const wrong = items.flatMap(({ time }) =>
    time?.kind === 'stamped' && !isStampAccepted(time.deviceMs, arrivalMs) ? [time.deviceMs] : [],
  );
  const [first] = wrong;
  return first === undefined
    ? []
    : [{ ...malformed('time-not-believed', { time: new Date(first).toISOString() }), count: wrong.length }];
};

const BLANKS = ' \t\r\n';

const firstSign = (text: string): string | undefined => {
  let at = 0;
  while (at < text.length && BLANKS.includes(text.charAt(at))) at += 1;
  return text[at];
};

const decodePayload = (payload: Uint8Array, parcel: Parcel): Decoded => {
  if (isCborPack(payload[0])) {
    const pack = parseCborPack(payload, parcel.limits.depth);
    return pack.ok ? decodeSenml(pack.value, parcel) : refusedFor(pack.fault);
  }
  const text = textOf(payload);
  if (text === undefined) return refused('not-utf8');
  switch (firstSign(text)) {
    case '[': {
      const pack = parseJson(text, parcel.limits.depth);
      return pack.ok ? decodeSenml(pack.value, parcel) : refusedFor(pack.fault);
    }
    case '{':
      return decodeJson(text, parcel);
    default:
      return decodeNumber(text, parcel);
  }
};

const decodeStatus = (payload: Uint8Array, board: string): Decoded => {
  const text = textOf(payload)?.trim();
  if (text === 'online' || text === 'offline') return { kind: 'status', board, online: text === 'online' };
  return text === undefined ? refused('not-utf8') : refused('status-not-understood', { text: excerpt(text) });
};

const refusedFor = ({ code, parameters }: Malformed): Decoded => refused(code, parameters);

const STRICT_UTF8 = new TextDecoder('utf-8', { fatal: true });

const textOf = (payload: Uint8Array): string | undefined => {
  try {
    return STRICT_UTF8.decode(payload);
  } catch {
    return undefined;
  }
};
