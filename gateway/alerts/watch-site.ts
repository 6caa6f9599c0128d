import { connect } from 'mqtt';
import type { FaultCall } from '../../rules/alerts/faults.js';
import { lossOf, parseHeartbeat, type Watched, withBeat, withBroker } from '../../rules/alerts/heartbeat.js';
import type { Notice } from '../../rules/alerts/notice.js';
import { heartbeatTopic } from '../../rules/wire/topic.js';
import type { Clock } from '../clock.js';
import type { Alerts } from './desk.js';

export type WatchSiteParts = {
  /** Id of the other site, as its Nightwater says it, and its broker. */
  readonly site: string;
  readonly url: string;
  readonly alerts: Pick<Alerts, 'raise' | 'clear'>;
  readonly clock: Clock;
  /** Told each time a heartbeat was taken. */
  readonly onBeat?: () => void;
};

const LOOK_MS = 1_000;

/**
 * Watches the Nightwater of another machine by its heartbeat, and wakes the people of this one when it stops. It must
 * not share machine, power or line with what it watches.
 */
export const watchSite = ({ site, url, alerts, clock, onBeat }: WatchSiteParts): (() => Promise<void>) => {
  const topic = heartbeatTopic(site);
  const id = `gateway-lost.${site}`;
  const client = connect(url, { clientId: `nightwater-watch-${site}`, reconnectPeriod: 2_000 });
  let watched: Watched = withBroker({ sinceMs: clock.now() }, 'down', clock.now());
  let lostMs: number | undefined;
  const broker = (state: 'up' | 'down') => (): void => {
    watched = withBroker(watched, state, clock.now());
  };
  client.on('connect', () => {
    broker('up')();
    client.subscribe(topic, { qos: 1 });
  });
  client.on('close', broker('down'));
  client.on('error', () => undefined);
  client.on('message', (_topic, payload, { retain }) => {
    const beat = parseHeartbeat(payload.toString('utf8'));
    if (beat === undefined) return;
    watched = withBeat(watched, beat, retain, clock.now());
    onBeat?.();
  });
  const says = ({ kind, key, atMs }: FaultCall): Notice => {
    const found = lossOf(watched, clock.now());
    if (kind === 'cleared') return { kind: 'gateway-back', atMs, key, site, sinceMs: lostMs ?? atMs };
    return {
      kind: 'gateway-lost',
      atMs,
      key,
      site,
      loss: found?.loss ?? 'no-heartbeat',
      sinceMs: found?.sinceMs ?? lostMs ?? atMs,
    };
  };
  const look = (): void => {
    const found = lossOf(watched, clock.now());
    if (found !== undefined) {
      lostMs ??= found.sinceMs;
      alerts.raise({ id, placeId: site, says });
    } else if (lostMs !== undefined) {
      alerts.clear(id);
      lostMs = undefined;
    }
  };
  const stop = clock.every(LOOK_MS, look);
  return async () => {
    stop();
    await client.endAsync(true);
  };
};
