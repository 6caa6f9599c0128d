/** Said every 10 s on `nightwater/{site}/heartbeat`, retained; the last will is `{"state":"offline"}`. */
export type Heartbeat = {
  readonly state: 'online' | 'offline';
  readonly atMs?: number;
  /** Goes up with each beat. */
  readonly counter?: number;
  /** When a reading was last judged: a gateway that beats and judges nothing has hung. */
  readonly evaluatedMs?: number;
};

export const HEARTBEAT_MS = 10_000;
/** Common practice, no source: a process is missed after six beats, a broker after three. */
const LOST_MS = 60_000;
const BROKER_LOST_MS = 30_000;
/** Judging may rest where boards send each minute. */
const HUNG_MS = 180_000;
/** After its last will, the time that a restart may take. */
const WILL_MS = 30_000;

export const makeHeartbeat = (beat: Heartbeat): string => JSON.stringify(beat);

/** The inverse of `makeHeartbeat`; undefined for what is none. */
export const parseHeartbeat = (text: string): Heartbeat | undefined => {
  try {
    const { state, atMs, counter, evaluatedMs } = JSON.parse(text) as Partial<Heartbeat>;
    if (state !== 'online' && state !== 'offline') return undefined;
    const numbers = { atMs, counter, evaluatedMs };
    if (Object.values(numbers).some((value) => value !== undefined && !Number.isFinite(value))) return undefined;
    return JSON.parse(JSON.stringify({ state, ...numbers })) as Heartbeat;
  } catch {
    return undefined;
  }
};

/** What the second Nightwater knows of the first, by its own clock. */
export type Watched = {
  /** Since when this watch looks. */
  readonly sinceMs: number;
  readonly counter?: number;
  readonly counterMs?: number;
  readonly evaluatedMs?: number;
  readonly evaluatedAtMs?: number;
  readonly offlineMs?: number;
  readonly brokerDownMs?: number;
};

export const WATCH_LOSSES = ['broker-lost', 'said-offline', 'no-heartbeat', 'judges-nothing'] as const;
export type WatchLoss = (typeof WATCH_LOSSES)[number];

/** One beat. A retained one, from the broker's store, proves nothing but that there once was a gateway. */
export const withBeat = (watched: Watched, beat: Heartbeat, retained: boolean, nowMs: number): Watched => {
  if (beat.state === 'offline') return { ...watched, offlineMs: watched.offlineMs ?? nowMs };
  if (retained) return watched;
  const { offlineMs: _, ...alive } = watched;
  return {
    ...alive,
    ...(beat.counter === undefined || beat.counter === watched.counter
      ? {}
      : { counter: beat.counter, counterMs: nowMs }),
    ...(beat.evaluatedMs === undefined || beat.evaluatedMs === watched.evaluatedMs
      ? {}
      : { evaluatedMs: beat.evaluatedMs, evaluatedAtMs: nowMs }),
  };
};

export const withBroker = (watched: Watched, broker: 'up' | 'down', nowMs: number): Watched => {
  const { brokerDownMs, ...rest } = watched;
  return broker === 'up' ? rest : { ...rest, brokerDownMs: brokerDownMs ?? nowMs };
};

/** Why the first must be taken for dead, and since when; undefined while it lives. */
export const lossOf = (
  watched: Watched,
  nowMs: number,
): { readonly loss: WatchLoss; readonly sinceMs: number } | undefined => {
  const { sinceMs, brokerDownMs, offlineMs, counterMs = sinceMs, evaluatedAtMs = sinceMs } = watched;
  if (brokerDownMs !== undefined && nowMs - brokerDownMs >= BROKER_LOST_MS)
    return { loss: 'broker-lost', sinceMs: brokerDownMs };
  if (offlineMs !== undefined && nowMs - offlineMs >= WILL_MS) return { loss: 'said-offline', sinceMs: offlineMs };
  if (nowMs - counterMs >= LOST_MS) return { loss: 'no-heartbeat', sinceMs: counterMs };
  return nowMs - evaluatedAtMs >= HUNG_MS ? { loss: 'judges-nothing', sinceMs: evaluatedAtMs } : undefined;
};
