import type { Server as HttpServer } from 'node:http';
import { type DefaultEventsMap, Server, type Socket } from 'socket.io';
import { type Change, type ClientEvents, FEED_API, type ServerEvents } from '../../rules/wire/feed.js';
import type { Access } from '../access/access.js';
import type { Caller } from '../access/caller.js';
import type { Clock } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import type { LandedNews, Watchkeeper } from '../watchkeeper-contract.js';
import { listenerOf, mayOpen, sinceOf } from './admit.js';
import { buildGathering } from './beat.js';
import { buildChangeLine, type ChangeLine } from './changes.js';
import { type Lag, watchLag } from './lag.js';

export type FeedParts = {
  readonly watchkeeper: Pick<Watchkeeper, 'picture' | 'state' | 'onLanded'>;
  readonly journal: Pick<Journal, 'sequence' | 'changesSince'>;
  readonly access: Access;
  readonly clock: Clock;
  readonly build: string;
  readonly publicUrl?: string;
};

export type Feed = { readonly listeners: () => number; readonly close: () => Promise<void> };

type Listener = { readonly caller: Caller; readonly lag: Lag; welcomed: number };
type FeedSocket = Socket<ClientEvents, ServerEvents, DefaultEventsMap, { listener?: Listener }>;
type FeedServer = Server<ClientEvents, ServerEvents, DefaultEventsMap, { listener?: Listener }>;

/** Four beats a second for all screens together, not for each. */
const BEAT_MS = 250;
const LIFE_MS = 1_000;
/** How late the end of a session by its age may be noticed. */
const EXPIRY_MS = 60_000;
/** A screen this many packets behind gets no more beats, but the whole picture when it has caught up. */
const BEHIND_PACKETS = 8;
/** One this far behind is let go; it comes back by itself and is told what it missed. */
const LOST_PACKETS = 500;
/** Screens that keep up. */
const LIVE = 'live';

/** The live feed: picture on connecting, beats for what moves, journalled changes at once, in order, each once. */
export const openFeed = (server: HttpServer, parts: FeedParts): Feed => {
  const { watchkeeper, clock, access } = parts;
  const io = attach(server, parts);
  const line = buildChangeLine(parts.journal);
  const telling = buildTelling(io, line, parts);
  io.on('connection', (socket) => {
    // 1. The others are told what is written but not told yet, so that nothing falls between the two.
    telling.changes([], socket.broadcast);
    // 2. The screen is told what it missed, up to exactly there; 3. then it has the room as it is now.
    welcome(socket, parts, line);
    socket.join(LIVE);
    socket.on('disconnect', () => socket.data.listener?.lag.stop());
  });
  const stops = [
    watchkeeper.onLanded(telling.landed),
    clock.every(BEAT_MS, telling.beat),
    clock.every(LIFE_MS, telling.life),
    access.onEnded(() => closeEnded(io, access)),
    clock.every(EXPIRY_MS, () => closeEnded(io, access)),
  ];
  return {
    listeners: () => io.sockets.sockets.size,
    close: async () => {
      for (const stop of stops) stop();
      await io.close();
    },
  };
};

/** The door: machine and page before the handshake, then who it is. */
const attach = (server: HttpServer, parts: FeedParts): FeedServer => {
  const io: FeedServer = new Server(server, {
    serveClient: false,
    maxHttpBufferSize: 10_000,
    connectTimeout: 10_000,
    allowRequest: (request, answer) => {
      const may = mayOpen(request, parts);
      answer(may ? null : 'not allowed', may);
    },
  });
  io.use((socket, next) => {
    const caller = listenerOf(socket.handshake, parts.access);
    if (caller === undefined) return next(new Error('unauthorized'));
    const lag = watchLag(socket.conn, () => catchUp(socket, parts.watchkeeper));
    socket.data.listener = { caller, lag, welcomed: 0 };
    next();
  });
  return io;
};

type Telling = {
  /** Changes that nobody was told yet, to all or to all others. */
  readonly changes: (landed: readonly Change[], audience: Pick<FeedServer, 'emit'>) => void;
  readonly landed: (news: LandedNews) => void;
  readonly beat: () => void;
  readonly life: () => void;
};

const buildTelling = (io: FeedServer, line: ChangeLine, { watchkeeper, clock }: FeedParts): Telling => {
  const gathering = buildGathering();
  const pace = buildPace();
  const changes: Telling['changes'] = (landed, audience) => {
    const next = line.next(landed);
    gathering.forgetAlarmsOf(next);
    for (const change of next) audience.emit('change', change);
  };
  const leaveSlowBehind = (): void => {
    for (const socket of io.sockets.sockets.values()) leaveBehind(socket);
  };
  return {
    changes,
    landed: (news) => {
      pace.landed(news.readings);
      gathering.gather(news);
      changes(news.changes, io);
      if (news.places !== undefined) io.emit('places', news.places);
      if (news.link !== undefined) io.emit('link', news.link);
    },
    beat: () => {
      const moved = gathering.beat();
      if (moved === undefined) return;
      leaveSlowBehind();
      if (moved.channels !== undefined) io.to(LIVE).emit('channels', moved.channels);
      if (moved.boards !== undefined) io.to(LIVE).emit('boards', moved.boards);
    },
    life: () => {
      const { lastReadingMs } = watchkeeper.state();
      const last = lastReadingMs === undefined ? {} : { lastReadingMs };
      leaveSlowBehind();
      io.to(LIVE).emit('life', { nowMs: clock.now(), ...last, readingsPerSecond: pace.perSecond() });
    },
  };
};

const welcome = (socket: FeedSocket, { build, clock, watchkeeper }: FeedParts, line: ChangeLine): void => {
  socket.emit('hello', { api: FEED_API, build, nowMs: clock.now(), sequence: line.told() });
  const since = sinceOf(socket.handshake.auth);
  const missed = since === undefined ? [] : line.missed(since);
  for (const change of missed) socket.emit('change', change);
  if (socket.data.listener !== undefined) socket.data.listener.welcomed = missed.length;
  socket.emit('picture', watchkeeper.picture());
};

/** A screen that cannot follow is spared the beats: they would only pile up in our memory. */
const leaveBehind = (socket: FeedSocket): void => {
  const { lag, welcomed = 0 } = socket.data.listener ?? {};
  const waiting = lag?.waiting() ?? 0;
  // A long absence is told in one go and may take its time.
  if (waiting > LOST_PACKETS + welcomed) socket.disconnect(true);
  else if (waiting > BEHIND_PACKETS) socket.leave(LIVE);
};

/** What it missed of the beats is in the picture; the changes it was sent all the same. */
const catchUp = (socket: FeedSocket, watchkeeper: FeedParts['watchkeeper']): void => {
  if (!socket.connected || socket.rooms.has(LIVE)) return;
  socket.join(LIVE);
  socket.emit('picture', watchkeeper.picture());
};

/** Signed out, revoked or run out: the screen goes too. */
const closeEnded = (io: FeedServer, access: Access): void => {
  for (const socket of io.sockets.sockets.values()) {
    const caller = socket.data.listener?.caller;
    if (caller === undefined || !access.isStill(caller)) socket.disconnect(true);
  }
};

/** Readings in the last whole second. */
const buildPace = (): { landed(readings: number): void; perSecond(): number } => {
  let counted = 0;
  return {
    landed: (readings) => {
      counted += readings;
    },
    perSecond: () => {
      const readings = counted;
      counted = 0;
      return readings;
    },
  };
};
