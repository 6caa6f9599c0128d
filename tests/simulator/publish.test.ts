import { createServer } from 'node:net';
import { Aedes } from 'aedes';
import { describe, expect, it, onTestFinished } from 'vitest';
import { scheduleOf } from '../../simulator/event.js';
import { startHatchery } from '../../simulator/hatchery-step.js';
import { birthOf, type Message, willOf } from '../../simulator/payload.js';
import { openPublisher, playHatchery } from '../../simulator/publish.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';

type Heard = {
  readonly client: string | undefined;
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
};

/** A broker on a free port of this machine, and what it has heard. */
const openBroker = async () => {
  const broker = await Aedes.createBroker();
  const server = createServer(broker.handle);
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  onTestFinished(async () => {
    await new Promise<void>((closed) => broker.close(closed));
    server.close();
  });
  const heard: Heard[] = [];
  const waiting = new Set<() => void>();
  broker.on('publish', ({ topic, payload, retain }, client) => {
    if (topic.startsWith('$SYS')) return;
    heard.push({ client: client?.id, topic, payload: String(payload), retain });
    for (const check of waiting) check();
  });
  const hears = (what: (one: Heard) => boolean): Promise<Heard> =>
    new Promise((found) => {
      const check = (): void => {
        const one = heard.find(what);
        if (one !== undefined) found(one);
      };
      waiting.add(check);
      check();
    });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  // Every line breaks at once, without a goodbye.
  const breaks = (): void => {
    server.close();
    broker.close();
  };
  return { url: `mqtt://127.0.0.1:${address.port}`, hears, heard, breaks };
};

const hatchery = saltmarshLane(7);
const [first, second] = hatchery.boards;
if (first === undefined || second === undefined) throw new Error('two boards');
const reading = (payload: string): Message => ({
  board: first.id,
  kind: 'reading',
  topic: 'boards/north-1/senml',
  payload,
  qos: 1,
  retain: false,
});

describe('boards on MQTT', () => {
  it('comes as a client of its own, says online, and then what it had to say meanwhile', async () => {
    const { url, hears, heard } = await openBroker();
    const publisher = openPublisher(url, hatchery.boards);
    publisher.send([birthOf(first), birthOf(second), reading('[1]'), reading('[2]')]);
    const said = await hears(({ payload }) => payload === '[2]');
    expect(said).toMatchObject({ client: 'board-north-1', retain: false });
    await hears(({ client }) => client === 'board-north-2');
    expect(heard.filter(({ client }) => client === 'board-north-1').map(({ payload }) => payload)).toEqual([
      'online',
      '[1]',
      '[2]',
    ]);
    await publisher.close();
  });

  it('ends too when its broker breaks off at the moment of the goodbye', async () => {
    const { url, hears, breaks } = await openBroker();
    const publisher = openPublisher(url, hatchery.boards);
    publisher.send([birthOf(first), birthOf(second)]);
    await hears(({ client }) => client === 'board-north-1');
    await hears(({ client }) => client === 'board-north-2');
    const closed = publisher.close();
    breaks();
    await expect(closed).resolves.toBeUndefined();
  });

  // MQTT 5.0, 3.1.2.5: the will is published when the connection closes without a disconnect.
  it('leaves it to the broker to say offline when it loses its power', async () => {
    const { url, hears } = await openBroker();
    const publisher = openPublisher(url, hatchery.boards);
    publisher.send([birthOf(first)]);
    await hears(({ payload }) => payload === 'online');
    publisher.send([willOf(first)]);
    const will = await hears(({ payload }) => payload === 'offline');
    expect(will).toMatchObject({ topic: 'boards/north-1/status', retain: true });
    await publisher.close();
  });

  it('says offline itself when it is put away in order', async () => {
    const { url, hears } = await openBroker();
    const publisher = openPublisher(url, hatchery.boards);
    publisher.send([birthOf(first)]);
    await hears(({ payload }) => payload === 'online');
    await publisher.close();
    expect(await hears(({ payload }) => payload === 'offline')).toMatchObject({
      client: 'board-north-1',
      retain: true,
    });
  });

  it('lets a whole hatchery speak: every board is heard', async () => {
    const { url, hears } = await openBroker();
    const publisher = openPublisher(url, hatchery.boards);
    const startMs = Date.UTC(2026, 5, 3, 1);
    let nowMs = startMs;
    const run = { hatchery, state: startHatchery(hatchery, startMs), schedule: scheduleOf([]) };
    const playing = playHatchery(run, publisher, () => {
      nowMs += 5000;
      return nowMs;
    });
    onTestFinished(() => {
      playing.stop();
    });
    await Promise.all(
      hatchery.boards.map(({ id }) =>
        hears(({ client, topic }) => client === `board-${id}` && !topic.endsWith('/status')),
      ),
    );
    expect(playing.stop().state.atMs).toBe(nowMs);
    await publisher.close();
  });
});
