import { connectAsync, type MqttClient } from 'mqtt';
import { beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { startHeartbeat } from '../../../gateway/alerts/heartbeat.js';
import { buildLamp, type LampWord } from '../../../gateway/alerts/lamp.js';
import { watchSite } from '../../../gateway/alerts/watch-site.js';
import { alarmTopic } from '../../../rules/wire/topic.js';
import { openAlertRoom } from '../../support/alert-room.js';
import { handClock } from '../../support/hand-clock.js';
import { alarmPictured, NIGHT_MS } from '../../support/ladder-night.js';
import { type Mosquitto, mosquittoMissing, startMosquitto } from '../../support/mosquitto.js';
import { peer } from '../../support/peer.js';
import { emptyFolder } from '../journal/opened.js';

const SITE = 'wrack-cove-7k2q';

/** A client that closes with its test, and hears what the broker brings. */
const clientOf = async (url: string, filter?: string) => {
  const client: MqttClient = await connectAsync(url);
  onTestFinished(() => client.endAsync(true));
  const heard: { topic: string; text: string; retain: boolean }[] = [];
  const waiting = new Set<() => void>();
  client.on('message', (topic, payload, { retain }) => {
    heard.push({ topic, text: payload.toString(), retain });
    for (const look of waiting) look();
  });
  if (filter !== undefined) await client.subscribeAsync(filter, { qos: 1 });
  const has = (isThere: () => boolean): Promise<void> =>
    new Promise((resolve) => {
      const look = (): void => {
        if (!isThere()) return;
        waiting.delete(look);
        resolve();
      };
      waiting.add(look);
      look();
    });
  const publish = async (topic: string, text: string, options: { retain: boolean; qos: 0 | 1 }): Promise<void> => {
    await client.publishAsync(topic, text, options);
  };
  return { client, heard, has, publish };
};

peer('mosquitto', mosquittoMissing)('a second Nightwater on another machine', () => {
  let broker: Mosquitto;
  beforeAll(async () => {
    broker = await startMosquitto();
    return () => broker.close();
  });

  test('wakes its own people when the heartbeat of the first stops, and tells them when it is back', async () => {
    const watched = await clientOf(broker.url);
    const clock = handClock(NIGHT_MS);
    const stop = startHeartbeat({ clock, publish: watched.publish, site: SITE, evaluatedMs: clock.now });
    onTestFinished(stop);
    const room = openAlertRoom(emptyFolder());
    let taken = (): void => undefined;
    const beat = (): Promise<void> =>
      new Promise((resolve) => {
        taken = resolve;
      });
    const first = beat();
    const close = watchSite({
      ...{ site: SITE, url: broker.url, alerts: room.alerts, clock: room.clock },
      onBeat: () => taken(),
    });
    onTestFinished(close);
    /** Both machines' clocks go on; the second has taken each beat before it looks. */
    const beatFor = async (seconds: number): Promise<void> => {
      for (let second = 10; second <= seconds; second += 10) {
        const next = beat();
        clock.passes(10_000);
        await next;
        await room.passes(1 / 6);
      }
    };
    await first;
    await beatFor(60);
    expect(room.said).toEqual([]);
    await room.passes(1.5);
    expect(room.said[0]).toMatchObject({ way: 'push', person: 'asta', title: `Nobody watches ${SITE}` });
    const called = room.said.length;
    await beatFor(20);
    expect(room.said.slice(called).map(({ title }) => title)).toContainEqual(
      expect.stringContaining(`${SITE} is watched again`),
    );
  });

  test('says that the broker is lost, when that is what happened', async () => {
    const room = openAlertRoom(emptyFolder());
    const close = watchSite({ site: SITE, url: 'mqtt://127.0.0.1:1', alerts: room.alerts, clock: room.clock });
    onTestFinished(close);
    await room.passes(0.6);
    const [message] = room.journal.outbox.byFault(`gateway-lost.${SITE}`);
    expect(message?.notice).toMatchObject({ kind: 'gateway-lost', loss: 'broker-lost' });
  });
});

peer('mosquitto', mosquittoMissing)('the lamp in the building', () => {
  let broker: Mosquitto;
  beforeAll(async () => {
    broker = await startMosquitto();
    return () => broker.close();
  });

  test('is told of each alarm on a topic of its own, kept for a lamp that wakes later, and taken away at its end', async () => {
    const { publish } = await clientOf(broker.url);
    const lamp = buildLamp(publish, SITE);
    await lamp.show([alarmPictured('a1', NIGHT_MS)]);
    const later = await clientOf(broker.url, alarmTopic(SITE, '+'));
    await later.has(() => later.heard.length > 0);
    expect(later.heard[0]).toMatchObject({ topic: alarmTopic(SITE, 'a1'), retain: true });
    expect(JSON.parse(later.heard[0]?.text ?? '') as LampWord).toMatchObject({
      state: 'sounding',
      place: 'l2',
      priority: 'high',
    });
    await lamp.show([alarmPictured('a1', NIGHT_MS, { state: 'ack' })]);
    await later.has(() => later.heard.length > 1);
    expect(JSON.parse(later.heard[1]?.text ?? '') as LampWord).toMatchObject({ state: 'silent' });
    await lamp.show([]);
    await later.has(() => later.heard.length > 2);
    expect(later.heard[2]?.text).toBe('');
    const last = await clientOf(broker.url, alarmTopic(SITE, '+'));
    await last.client.publishAsync(alarmTopic(SITE, 'end'), 'x');
    await last.has(() => last.heard.length > 0);
    expect(last.heard.map(({ topic }) => topic)).toEqual([alarmTopic(SITE, 'end')]);
  });

  test('what ended while the gateway was down is taken away at its start', async () => {
    const { publish } = await clientOf(broker.url);
    let topics: readonly string[] = [];
    const memory = {
      kept: () => topics,
      keep: (now: readonly string[]) => {
        topics = now;
      },
    };
    await buildLamp(publish, SITE, memory).show([alarmPictured('b1', NIGHT_MS), alarmPictured('b2', NIGHT_MS)]);
    const ear = await clientOf(broker.url, alarmTopic(SITE, '+'));
    await ear.has(() => ear.heard.length === 2);
    await buildLamp(publish, SITE, memory).show([alarmPictured('b2', NIGHT_MS)]);
    await ear.has(() => ear.heard.length === 4);
    expect(ear.heard.slice(2).map(({ topic, text }) => [topic, text === ''])).toEqual([
      [alarmTopic(SITE, 'b1'), true],
      [alarmTopic(SITE, 'b2'), false],
    ]);
    expect(topics).toEqual([alarmTopic(SITE, 'b2')]);
    await buildLamp(publish, SITE, memory).show([]);
    expect(topics).toEqual([]);
  });

  test('what could not be said while the broker was away is said when it is back', async () => {
    const { publish } = await clientOf(broker.url);
    let isAway = true;
    const lamp = buildLamp(
      async (...message) => (isAway ? Promise.reject(new Error('away')) : publish(...message)),
      SITE,
    );
    const ear = await clientOf(broker.url, alarmTopic(SITE, '+'));
    await lamp.show([alarmPictured('a7', NIGHT_MS)]);
    expect(ear.heard).toEqual([]);
    isAway = false;
    await lamp.show([alarmPictured('a7', NIGHT_MS)]);
    await ear.has(() => ear.heard.length > 0);
    expect(ear.heard[0]?.topic).toBe(alarmTopic(SITE, 'a7'));
  });
});

describe('the check-in outside', () => {
  test('is called each minute, and failures are counted until one is answered', async () => {
    const { startCheckIn } = await import('../../../gateway/alerts/check-in.js');
    const { openHookEndpoint } = await import('../../support/hook-endpoint.js');
    const hook = await openHookEndpoint();
    onTestFinished(hook.close);
    const clock = handClock(NIGHT_MS);
    const checkIn = startCheckIn(clock, () => hook.url);
    onTestFinished(checkIn.stop);
    hook.answers({ status: 500 });
    clock.passes(60_000);
    await expect.poll(checkIn.failures).toBe(1);
    expect(checkIn.failingSinceMs()).toBeUndefined();
    for (const failures of [2, 3]) {
      clock.passes(60_000);
      await expect.poll(checkIn.failures).toBe(failures);
    }
    expect(checkIn.failingSinceMs()).toBe(NIGHT_MS + 60_000);
    hook.answers({ status: 200 });
    clock.passes(60_000);
    await expect.poll(checkIn.failures).toBe(0);
    expect(hook.received).toHaveLength(4);
    expect(checkIn.failingSinceMs()).toBeUndefined();
  });
});
