import type { Database } from './database.js';
import type { Landing } from './landing.js';

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
  /** Those of one landing, in their order. */
  keepAll(packets: Landing['packets']): void;
  fingerprint(packetId: number): string | undefined;
  /** The broker says that it kept no session: no packet can come again. */
  forgetAll(): void;
  reload(): void;
};

type Row = { readonly packet_id: number; readonly fingerprint: string };
/** A packet and the number of the row that it is written in. */
type Known = { readonly fingerprint: string; readonly row: number };

/** So many rows with something in them that still holds are written together into one. */
const MOST_ROWS = 4_096;

/**
 * One row a landing, under a number below zero that goes on falling: a row for each packet cost more than its reading.
 * A row is dropped when nothing in it holds any more. Rows above zero are single packets of earlier versions.
 */
export const buildPackets = (database: Database): Packets => {
  const insert = database.prepare<[number, string]>('INSERT INTO packet (packet_id, fingerprint) VALUES (?, ?)');
  const all = database.prepare<[], Row>(
    'SELECT packet_id, fingerprint FROM packet ORDER BY packet_id < 0, abs(packet_id)',
  );
  const drop = database.prepare<[number]>('DELETE FROM packet WHERE packet_id = ?');
  const clear = database.prepare('DELETE FROM packet');
  const known = new Map<number, Known>();
  const holding = new Map<number, number>();
  let newest = 0;

  /** What a row held, it holds no more. */
  const release = (row: number, isWritten: boolean): void => {
    const left = (holding.get(row) ?? 1) - 1;
    if (left > 0) holding.set(row, left);
    else if (holding.delete(row) && isWritten) drop.run(row);
  };
  const put = (row: number, packetId: number, fingerprint: string, isWritten: boolean): void => {
    holding.set(row, (holding.get(row) ?? 0) + 1);
    const before = known.get(packetId);
    if (before !== undefined) {
      // Taken out first, so that the map stays in order of age.
      known.delete(packetId);
      release(before.row, isWritten);
    }
    known.set(packetId, { fingerprint, row });
  };
  const forgetOldest = (isWritten: boolean): void => {
    if (known.size <= MOST) return;
    for (const [packetId, { row }] of known) {
      known.delete(packetId);
      release(row, isWritten);
      if (known.size <= MOST) return;
    }
  };
  const write = (packets: Landing['packets']): void => {
    if (packets.length === 0) return;
    newest -= 1;
    insert.run(newest, packets.map(({ packetId, fingerprint }) => `${packetId} ${fingerprint}`).join('\n'));
    for (const { packetId, fingerprint } of packets) put(newest, packetId, fingerprint, true);
    forgetOldest(true);
  };
  const writeTogether = (): void => {
    const packets = [...known].map(([packetId, { fingerprint }]) => ({ packetId, fingerprint }));
    forget();
    write(packets);
  };
  const forget = (): void => {
    clear.run();
    known.clear();
    holding.clear();
  };
  const reload = (): void => {
    known.clear();
    holding.clear();
    newest = 0;
    for (const { packet_id: row, fingerprint: text } of all.iterate()) {
      newest = Math.min(newest, row);
      if (row >= 0) put(row, row, text, false);
      else for (const [packetId, fingerprint] of packetsIn(text)) put(row, packetId, fingerprint, false);
      forgetOldest(false);
    }
  };
  reload();
  return {
    keepAll: (packets) => {
      write(packets);
      if (holding.size > MOST_ROWS) writeTogether();
    },
    fingerprint: (packetId) => known.get(packetId)?.fingerprint,
    forgetAll: forget,
    reload,
  };
};

const packetsIn = (text: string): readonly (readonly [packetId: number, fingerprint: string])[] =>
  text.split('\n').map((line) => {
    const space = line.indexOf(' ');
    return [Number(line.slice(0, space)), line.slice(space + 1)];
  });
