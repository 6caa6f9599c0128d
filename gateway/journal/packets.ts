import type { Database } from './database.js';

/**
 * Which packet each MQTT packet id last carried, so that a redelivery of an unstamped reading is recognised after a
 * restart. Bounded by the ids themselves: there are 65,535. [MQTT 3.1.1, 2.3.1]
 */
export type Packets = {
  keep(packetId: number, fingerprint: string): void;
  fingerprint(packetId: number): string | undefined;
  /** The broker says that it kept no session: no packet can come again. */
  forgetAll(): void;
  reload(): void;
};

type Row = { readonly packet_id: number; readonly fingerprint: string };

export const buildPackets = (database: Database): Packets => {
  const upsert = database.prepare<[number, string]>(
    'INSERT OR REPLACE INTO packet (packet_id, fingerprint) VALUES (?, ?)',
  );
  const all = database.prepare<[], Row>('SELECT packet_id, fingerprint FROM packet');
  const clear = database.prepare('DELETE FROM packet');
  const known = new Map<number, string>();
  const reload = (): void => {
    known.clear();
    for (const { packet_id, fingerprint } of all.iterate()) known.set(packet_id, fingerprint);
  };
  reload();
  return {
    keep: (packetId, fingerprint) => {
      upsert.run(packetId, fingerprint);
      known.set(packetId, fingerprint);
    },
    fingerprint: (packetId) => known.get(packetId),
    forgetAll: () => {
      clear.run();
      known.clear();
    },
    reload,
  };
};
