import { HEARTBEAT_MS, makeHeartbeat } from '../../rules/alerts/heartbeat.js';
import { heartbeatTopic } from '../../rules/wire/topic.js';
import type { Clock } from '../clock.js';
import type { Broker } from '../intake/delivery.js';

/** What the broker tells, retained, when this gateway is gone: give it as the will of the connection. */
export const heartbeatWill = (site: string) => ({
  topic: heartbeatTopic(site),
  payload: makeHeartbeat({ state: 'offline' }),
});

export type HeartbeatParts = {
  readonly clock: Clock;
  readonly publish: Broker['publish'];
  readonly site: string;
  /** When a reading was last judged. */
  readonly evaluatedMs: () => number | undefined;
};

const RETAINED = { retain: true, qos: 1 } as const;

/** Says each 10 s that we live and judge. Returns what says that we stop, and stops. */
export const startHeartbeat = ({ clock, publish, site, evaluatedMs }: HeartbeatParts): (() => Promise<void>) => {
  const topic = heartbeatTopic(site);
  let counter = 0;
  const beat = (): void => {
    counter += 1;
    const judgedMs = evaluatedMs();
    const word = {
      state: 'online',
      atMs: clock.now(),
      counter,
      ...(judgedMs === undefined ? {} : { evaluatedMs: judgedMs }),
    } as const;
    // A broker that is away misses a beat: that is what the second Nightwater listens for.
    publish(topic, makeHeartbeat(word), RETAINED).catch(() => undefined);
  };
  beat();
  const stop = clock.every(HEARTBEAT_MS, beat);
  return async () => {
    stop();
    await publish(topic, makeHeartbeat({ state: 'offline' }), RETAINED).catch(() => undefined);
  };
};
