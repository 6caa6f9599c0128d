import type { Malformed } from '../../rules/wire/malformed.js';

/** One MQTT message as it arrived, whichever broker brought it. */
export type Delivery = {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly qos: 0 | 1 | 2;
  /** From the broker's store at subscribing: state, never a fresh reading. */
  readonly retained: boolean;
  /** The broker says that it may have sent this before (DUP), within a session it kept. */
  readonly redelivered: boolean;
  /**
   * The number by which a redelivery is recognised; undefined where there can be none (QoS 0, a session not kept).
   * An embedded broker speaks with many boards, each with its own packet ids: it folds the board's session in.
   */
  readonly packetId?: number;
  readonly arrivalMs: number;
  /** Who sent it, where the broker knows: the embedded one does, from the credential. */
  readonly board?: string;
  /** The broker refused it already (too large, another board's topic): never a reading, but counted and kept. */
  readonly refusal?: Malformed;
};

/**
 * Takes a group of deliveries and returns when they are committed: only then are they acknowledged. Throwing leaves
 * the whole group unacknowledged, so that the broker sends it again.
 */
export type TakeDeliveries = (group: readonly Delivery[]) => void;

export type LinkChange = {
  readonly broker: 'up' | 'down';
  readonly atMs: number;
  readonly reason?: string;
};

/** A broker, embedded or external, while it is open. */
export type Broker = {
  readonly address: string;
  publish(topic: string, payload: string, options: { readonly retain: boolean; readonly qos: 0 | 1 }): Promise<void>;
  close(): Promise<void>;
};
