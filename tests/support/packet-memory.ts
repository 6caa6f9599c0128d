import type { Delivery } from '../../gateway/intake/delivery.js';
import { fingerprintOf } from '../../gateway/intake/redelivery.js';

export type PacketMemory = {
  readonly known: (packetId: number) => string | undefined;
  readonly remember: (group: readonly Delivery[]) => void;
};

/** What the journal keeps of packets, in memory: the fingerprint that each packet id carried last. */
export const packetMemory = (...taken: readonly Delivery[]): PacketMemory => {
  const fingerprints = new Map<number, string>();
  const remember: PacketMemory['remember'] = (group) => {
    for (const delivery of group) {
      if (delivery.packetId !== undefined) fingerprints.set(delivery.packetId, fingerprintOf(delivery));
    }
  };
  remember(taken);
  return { known: (packetId) => fingerprints.get(packetId), remember };
};
