import fc from 'fast-check';
import { io, type Socket } from 'socket.io-client';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openFeed } from '../../../gateway/live/feed.js';
import type { Beat, Change, ClientEvents, Hello, ServerEvents } from '../../../rules/wire/feed.js';
import type { ChannelPicture, Picture } from '../../../rules/wire/picture.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { alarmOf } from '../../support/pretend-watch.js';

type Heard =
  | { readonly kind: 'hello'; readonly body: Hello }
  | { readonly kind: 'picture'; readonly body: Picture }
  | { readonly kind: 'change'; readonly body: Change }
  | { readonly kind: 'channels'; readonly body: Beat }
  | { readonly kind: 'life' | 'places' | 'boards' | 'link'; readonly body: unknown };

type Screen = {
  readonly socket: Socket<ServerEvents, ClientEvents>;
  readonly heard: Heard[];
  /** Resolves when something was heard that fits. */
  readonly hears: (fits: (heard: Heard) => boolean) => Promise<Heard>;
  readonly close: () => void;
};

type Open = Room & { readonly url: string; readonly screen: (auth?: object, more?: object) => Screen };

const openRoom = async (demo = false): Promise<Open> => {
  const room = await gatewayRoom({ demo });
  const feed = openFeed(room.app.server, room.parts);
  const url = await room.app.listen({ host: '127.0.0.1', port: 0 });
  onTestFinished(() => feed.close());
  const token = room.access.addToken('a wall', 'viewer');
  return { ...room, url, screen: (auth = { token }, more = {}) => openScreen(url, auth, more) };
};

const openScreen = (url: string, auth: object, more: object): Screen => {
  const socket: Screen['socket'] = io(url, { forceNew: true, reconnection: false, auth, ...more });
  const heard: Heard[] = [];
  const waiting = new Set<() => void>();
  socket.onAny((...said: unknown[]) => {
    const [kind, body] = said;
    heard.push({ kind, body } as Heard);
    for (const look of waiting) look();
  });
  const hears = (fits: (heard: Heard) => boolean): Promise<Heard> =>
    new Promise((resolve) => {
      const look = (): void => {
        const found = heard.find(fits);
        if (found === undefined) return;
        waiting.delete(look);
        resolve(found);
      };
      waiting.add(look);
      look();
    });
  const close = (): void => {
    socket.close();
  };
  onTestFinished(close);
  return { socket, heard, hears, close };
};

const isPicture = ({ kind }: Heard): boolean => kind === 'picture';
const changesOf = (heard: readonly Heard[]): readonly number[] =>
  heard.flatMap((each) => (each.kind === 'change' ? [each.body.sequence] : []));
const refusal = (screen: Screen): Promise<string> =>
  new Promise((resolve) => screen.socket.on('connect_error', ({ message }) => resolve(message)));

const channel = (value: number): ChannelPicture => ({
  id: 'l2.temperature',
  placeId: 'l2',
  quantity: 'temperature',
  computed: false,
  state: 'in-target',
  sinceMs: 0,
  value,
});

describe('the feed', () => {
  test('greets a screen, then gives it the whole room', async () => {
    const { screen, journal } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    expect(wall.heard.map(({ kind }) => kind)).toEqual(['hello', 'picture']);
    expect(wall.heard[0]?.body).toMatchObject({ api: 1, build: 'test', sequence: journal.sequence() });
    expect(wall.heard[1]?.body).toMatchObject({ sequence: journal.sequence(), site: { name: 'Wrack Cove' } });
  });

  test('lets nobody in without a right, nor with a wrong one', async () => {
    const { screen } = await openRoom();
    expect(await refusal(screen({}))).toBe('unauthorized');
    expect(await refusal(screen({ token: 'nwt_guessed' }))).toBe('unauthorized');
  });

  test('lets a browser in by its cookie', async () => {
    const { screen, access } = await openRoom();
    const token = access.addToken('a phone', 'crew');
    const phone = screen({}, { transports: ['websocket'], extraHeaders: { cookie: `other=1; nightwater=${token}` } });
    expect(await phone.hears(isPicture)).toBeDefined();
  });

  test('does not open for a page of another site', async () => {
    const { screen, access } = await openRoom();
    const token = access.addToken('a phone', 'crew');
    const options = { transports: ['websocket'], extraHeaders: { origin: 'https://elsewhere.example' } };
    expect(await refusal(screen({ token }, options))).toBe('websocket error');
  });

  test('in the demo lets this machine in without signing in, and no page of another name', async () => {
    const { screen } = await openRoom(true);
    expect(await screen({}).hears(isPicture)).toBeDefined();
    const options = { transports: ['websocket'], extraHeaders: { origin: 'http://rebound.example' } };
    expect(await refusal(screen({}, options))).toBe('websocket error');
    const rebound = { transports: ['websocket'], extraHeaders: { host: 'rebound.example' } };
    expect(await refusal(screen({}, rebound))).toBe('websocket error');
  });

  test('closes a wall as soon as its token is revoked', async () => {
    const { screen, access } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    const gone = new Promise((resolve) => wall.socket.on('disconnect', resolve));
    access.revokeToken('a wall');
    expect(await gone).toBe('io server disconnect');
  });
});

describe('what moves', () => {
  test('an alarm goes out at once, without waiting for a beat', async () => {
    const { screen, watch } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    const { sequence } = watch.alarm(alarmOf('a1'));
    // The clock stands still, so no beat can have carried it.
    expect(await wall.hears(({ kind }) => kind === 'change')).toMatchObject({
      body: { sequence, alarm: { id: 'a1' } },
    });
  });

  test('readings go out in beats, at most four a second, each channel with its newest value', async () => {
    const { screen, watch, clock } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    for (let value = 1; value <= 100; value += 1) {
      watch.land({ readings: 1, channels: [channel(value)] });
      clock.passes(10);
    }
    clock.passes(250);
    await wall.hears((each) => each.kind === 'channels' && each.body.channels[0]?.value === 100);
    const beats = wall.heard.flatMap((each) => (each.kind === 'channels' ? [each.body] : []));
    expect(beats.length).toBeLessThanOrEqual(5);
    expect(beats.reduce((sum, { readings }) => sum + readings, 0)).toBe(100);
    expect(beats.map(({ channels }) => channels.length)).toEqual(beats.map(() => 1));
  });

  test('a beat never carries an alarm that is older than what was told of it', async () => {
    const { screen, watch, clock } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    watch.land({ alarms: [alarmOf('a1')], readings: 1 });
    watch.alarm(alarmOf('a1', { state: 'ack' }), 'ack');
    clock.passes(250);
    expect(await wall.hears(({ kind }) => kind === 'channels')).toMatchObject({ body: { alarms: [] } });
  });

  test('a change of settings is told to every screen, in the order of the journal', async () => {
    const { screen, desk, watch, journal } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    const from = journal.sequence();
    const place = desk.place('l2');
    if (place === undefined) throw new Error('no l2');
    desk.putPlace({ ...place.body, stage: 'setting' }, { by: 'Ada', expectedVersion: place.version });
    watch.alarm(alarmOf('a1'));
    await wall.hears((each) => each.kind === 'change' && each.body.sequence === from + 2);
    expect(wall.heard.flatMap((each) => (each.kind === 'change' ? [each.body] : []))).toMatchObject([
      { sequence: from + 1, kind: 'settings', what: 'place/l2', by: 'Ada' },
      { sequence: from + 2, kind: 'alarm' },
    ]);
    expect(wall.heard.some(({ kind }) => kind === 'places')).toBe(true);
  });

  test('each second a screen hears that the gateway lives, and how many readings came', async () => {
    const { screen, watch, clock } = await openRoom();
    const wall = screen();
    await wall.hears(isPicture);
    watch.land({ readings: 7 });
    clock.passes(1_000);
    expect(await wall.hears(({ kind }) => kind === 'life')).toMatchObject({
      body: { nowMs: clock.now(), readingsPerSecond: 7 },
    });
  });
});

/** Lets everything that is ready to be read or written have its turn. */
const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('a screen that cannot follow', () => {
  test('is spared the beats, and has the whole room again when it has caught up', async () => {
    const { screen, watch, clock } = await openRoom();
    const slow = screen(undefined, { transports: ['websocket'] });
    await slow.hears(isPicture);
    const connection = connectionOf(slow.socket);
    connection.pause();
    // Far more than the system's own buffers between the two hold.
    const many = Array.from({ length: 500 }, (_, index) => ({ ...channel(index), id: `l2.temperature.p${index}` }));
    const beats = 400;
    for (let count = 0; count < beats; count += 1) {
      watch.land({ readings: 500, channels: many });
      clock.passes(250);
      await turn();
    }
    const { sequence } = watch.alarm(alarmOf('a1'));
    connection.resume();
    await slow.hears((each) => each.kind === 'change' && each.body.sequence === sequence);
    await slow.hears((each) => each.kind === 'picture' && each.body.sequence === sequence);
    expect(slow.heard.filter(({ kind }) => kind === 'channels').length).toBeLessThan(beats);
  });
});

/** The network connection under a screen, so that a test can stop reading from it. */
const connectionOf = (socket: Screen['socket']): { pause(): void; resume(): void } => {
  const { ws } = socket.io.engine.transport as unknown as {
    ws: { _socket: { pause(): void; resume(): void } };
  };
  return ws._socket;
};

type Deed = 'alarm' | 'settings' | 'unannounced' | 'leave' | 'come';

describe('a screen that was away', () => {
  test('hears every journalled change once and in order, however often it leaves and comes', async () => {
    const room = await openRoom();
    const { screen, watch, journal } = room;
    let visits = 0;
    const deed = fc.constantFrom<Deed>('alarm', 'settings', 'unannounced', 'leave', 'come');
    await fc.assert(
      fc.asyncProperty(fc.array(deed, { maxLength: 25 }), async (deeds) => {
        const began = journal.sequence();
        let since = began;
        let wall: Screen | undefined;
        const told: number[] = [];
        const leave = (): void => {
          if (wall === undefined) return;
          told.push(...changesOf(wall.heard));
          since = told.at(-1) ?? began;
          wall.close();
          wall = undefined;
        };
        const come = async (): Promise<void> => {
          if (wall !== undefined) return;
          visits += 1;
          const token = room.access.addToken(`wall ${visits}`, 'viewer');
          wall = screen({ token, since });
          const picture = await wall.hears(isPicture);
          // All that the picture holds has been told before it.
          if (picture.kind === 'picture') expect([since, ...changesOf(wall.heard)]).toContain(picture.body.sequence);
        };
        for (const [index, each] of deeds.entries()) {
          if (each === 'leave') leave();
          else if (each === 'come') await come();
          else write(room, each, index);
        }
        await come();
        const newest = journal.sequence();
        watch.land({});
        if (newest > since) await wall?.hears((heard) => heard.kind === 'change' && heard.body.sequence === newest);
        leave();
        expect(told).toEqual(Array.from({ length: newest - began }, (_, index) => began + 1 + index));
      }),
      { seed: 20260504, numRuns: 25 },
    );
  });

  test('is told the room alone when it holds nothing yet', async () => {
    const { screen, watch } = await openRoom();
    watch.alarm(alarmOf('a1'));
    const wall = screen();
    await wall.hears(isPicture);
    expect(changesOf(wall.heard)).toEqual([]);
  });
});

/** `unannounced`: written by another part, and nobody has told the feed yet. */
const write = (
  { watch, desk, journal, clock }: Room,
  deed: 'alarm' | 'settings' | 'unannounced',
  index: number,
): void => {
  if (deed === 'alarm') watch.alarm(alarmOf(`a${index}`));
  else if (deed === 'settings') {
    const { version, body } = desk.site().site;
    desk.putSite({ ...body, name: `Wrack Cove ${index}` }, { by: 'Ada', expectedVersion: version });
  } else {
    const id = `01${String(journal.sequence()).padStart(24, '0')}`;
    journal.log.add({ id, atMs: clock.now(), recordedMs: clock.now(), kind: 'note', by: 'Ada', body: {} });
  }
};
