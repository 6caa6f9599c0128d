import { hash } from 'node:crypto';
import type { Delivery } from './delivery.js';

/** A packet as it is kept at landing: persisted, so that a redelivery is recognised after a restart. */
export type Packet = { readonly packetId: number; readonly fingerprint: string };

/** Topic and payload of a message in 128 bits; the length of the topic keeps the two apart. */
export const fingerprintOf = ({ topic, payload }: Pick<Delivery, 'topic' | 'payload'>): string =>
  hash('sha256', Buffer.concat([Buffer.from(`${topic.length}:${topic}`), payload]), 'base64url').slice(0, 22);

/**
 * Whether a delivery was taken before. Only where the broker kept the session and sets DUP (`redelivered`), and the
 * packet taken last under that id had the same topic and payload. Equal values or times alone never make a repeat, and
 * DUP alone does not prove an earlier copy (MQTT 5.0 section 3.3.1.1): it may have been lost on the way.
 */
export const isRepeat = (delivery: Delivery, known: (packetId: number) => string | undefined): boolean =>
  delivery.redelivered && delivery.packetId !== undefined && known(delivery.packetId) === fingerprintOf(delivery);
