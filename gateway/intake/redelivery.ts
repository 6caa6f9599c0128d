import { createHash } from 'node:crypto';
import type { Delivery } from './delivery.js';

/** A packet as it is kept at landing: persisted, so that a redelivery is recognised after a restart. */
export type Packet = { readonly packetId: number; readonly fingerprint: string };

/** Topic and payload of a message in 128 bits; the length of the topic keeps the two apart. */
export const fingerprintOf = ({ topic, payload }: Pick<Delivery, 'topic' | 'payload'>): string =>
  createHash('sha256').update(`${topic.length}:${topic}`).update(payload).digest('base64url').slice(0, 22);

/** What landing keeps of a delivery; undefined where it can never come again (QoS 0, a session not kept). */
export const packetOf = (delivery: Delivery): Packet | undefined =>
  delivery.packetId === undefined || delivery.qos === 0
    ? undefined
    : { packetId: delivery.packetId, fingerprint: fingerprintOf(delivery) };

/**
 * Whether a delivery was taken before. Only where the broker kept the session and sets DUP (`redelivered`), and the
 * packet taken last under that id had the same topic and payload. Equal values or times alone never make a repeat, and
 * DUP alone does not prove an earlier copy (MQTT 5.0 section 3.3.1.1): it may have been lost on the way.
 */
export const isRepeat = (delivery: Delivery, known: (packetId: number) => string | undefined): boolean =>
  delivery.redelivered && delivery.packetId !== undefined && known(delivery.packetId) === fingerprintOf(delivery);

/** The packets taken last, one fingerprint an id, no more than `limit` of them: the oldest is forgotten first. */
export type PacketMemory = {
  readonly known: (packetId: number) => string | undefined;
  readonly remember: (packet: Packet) => void;
};

/** As many as one session has ids (MQTT 5.0 section 2.2.1). */
const PACKET_IDS = 65_535;

export const recallPackets = (kept: Iterable<Packet>, limit: number = PACKET_IDS): PacketMemory => {
  const fingerprints = new Map<number, string>();
  const remember = ({ packetId, fingerprint }: Packet): void => {
    fingerprints.delete(packetId);
    fingerprints.set(packetId, fingerprint);
    const [oldest] = fingerprints.keys();
    if (fingerprints.size > limit && oldest !== undefined) fingerprints.delete(oldest);
  };
  for (const packet of kept) remember(packet);
  return { known: (packetId) => fingerprints.get(packetId), remember };
};
