import type { Database } from './database.js';

/** A browser that may be pushed to, as it gave itself (W3C Push API). */
export type PushSubscription = {
  readonly endpoint: string;
  readonly personId: string;
  readonly p256dh: string;
  readonly auth: string;
  /** What the person calls the phone. */
  readonly device: string;
  readonly madeMs: number;
};

export type PushSubscriptions = {
  /** A browser that subscribes again replaces what it was. */
  put(subscription: PushSubscription): void;
  of(personId: string): readonly PushSubscription[];
  /** The push service does not know it any more, or the person took it away; kept as ended. */
  end(endpoint: string, atMs: number, why: string): boolean;
};

type Row = {
  readonly endpoint: string;
  readonly person_id: string;
  readonly p256dh: string;
  readonly auth: string;
  readonly device: string;
  readonly made_ms: number;
};

export const buildPushSubscriptions = (database: Database): PushSubscriptions => {
  const put = database.prepare<[string, string, string, string, string, number]>(
    'INSERT OR REPLACE INTO push_subscription (endpoint, person_id, p256dh, auth, device, made_ms) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const of = database.prepare<[string], Row>(
    'SELECT * FROM push_subscription WHERE person_id = ? AND ended_ms IS NULL ORDER BY made_ms, endpoint',
  );
  const end = database.prepare<[number, string, string]>(
    'UPDATE push_subscription SET ended_ms = ?, ended_why = ? WHERE endpoint = ? AND ended_ms IS NULL',
  );
  return {
    put: ({ endpoint, personId, p256dh, auth, device, madeMs }) => {
      put.run(endpoint, personId, p256dh, auth, device, madeMs);
    },
    of: (personId) =>
      of.all(personId).map(({ person_id, made_ms, ...row }) => ({
        endpoint: row.endpoint,
        personId: person_id,
        p256dh: row.p256dh,
        auth: row.auth,
        device: row.device,
        madeMs: made_ms,
      })),
    end: (endpoint, atMs, why) => end.run(atMs, why, endpoint).changes === 1,
  };
};
