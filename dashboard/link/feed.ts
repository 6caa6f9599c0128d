import { io, type Socket } from 'socket.io-client';
import { type ClientEvents, FEED_API, type Hello, type ServerEvents } from '../../rules/wire/feed.js';
import type { FeedState } from '../state/aliveness.js';
import type { ServerEvent } from '../state/live.js';

type FeedSocket = Socket<ServerEvents, ClientEvents>;

export type FeedEnds = {
  /** The last journal sequence this page holds. */
  readonly since: () => number | undefined;
  readonly hear: (event: ServerEvent) => void;
  readonly onState: (state: FeedState) => void;
  readonly onRefused: () => void;
  readonly nowMs: () => number;
  /** Loads the page anew, for a gateway that speaks another build. */
  readonly reload: (build: string) => void;
};

const KINDS = ['picture', 'channels', 'places', 'boards', 'link', 'change', 'life'] as const;

/** Listens to the gateway for as long as the page lives; returns what undoes it. */
export const openFeed = (ends: FeedEnds): (() => void) => {
  const socket: FeedSocket = io({
    transports: ['websocket', 'polling'],
    reconnectionDelay: 500,
    reconnectionDelayMax: 5000,
    auth: (give) => give({ api: FEED_API, since: ends.since() }),
  });
  let build: string | undefined;
  const lost = (): void => ends.onState({ kind: 'lost', sinceMs: ends.nowMs() });
  socket.on('connect', () => ends.onState({ kind: 'live' }));
  socket.on('disconnect', (reason) => {
    lost();
    // The gateway closed it on purpose: socket.io then waits for us to ask again.
    if (reason === 'io server disconnect') socket.connect();
  });
  socket.on('connect_error', (error) => {
    if (error.message === 'unauthorized') ends.onRefused();
  });
  socket.on('hello', (hello: Hello) => {
    const stranger = hello.api !== FEED_API || (build !== undefined && hello.build !== build);
    build = hello.build;
    if (stranger) ends.reload(hello.build);
    else ends.hear({ kind: 'hello', body: hello });
  });
  listenAll(socket, ends.hear);
  return () => socket.close();
};

/** Every event of the feed goes on as one union; the compiler counts the kinds. */
const listenAll = (socket: FeedSocket, hear: (event: ServerEvent) => void): void => {
  const onAny = (kind: string, body: unknown): void => {
    if (KINDS.some((known) => known === kind)) hear({ kind, body } as ServerEvent);
  };
  socket.onAny(onAny);
};
