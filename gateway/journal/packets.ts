import type { Database } from './database.js';

/**
 * Half of the ids that a session has [MQTT 3.1.1, 2.3.1]: a session that counts up has been forgotten before it comes
 * round to the same id, so an old packet is never taken for a new one of the same value; and more than the 16,000
 * messages that mosquitto 2.0 was seen to have under way at once.
 */
const MOST = 32_768;

/**
 * Which packet each packet id last carried, so that a redelivery of an unstamped reading is recognised after a restart.
 * The embedded broker folds the board's session into the id (`Delivery.packetId`), so ids alone are no bound: the oldest
 * goes when there are more than `MOST`.
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
  const forget = database.prepare<[number]>('DELETE FROM packet WHERE packet_id = ?');
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
      // Taken out first, so that the map stays in order of age.
      known.delete(packetId);
      known.set(packetId, fingerprint);
      const [oldest] = known.keys();
      if (known.size <= MOST || oldest === undefined) return;
      forget.run(oldest);
      known.delete(oldest);
    },
    fingerprint: (packetId) => known.get(packetId),
    forgetAll: () => {
      clear.run();
      known.clear();
    },
    reload,
  };
};
