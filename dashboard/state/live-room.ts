import { effect } from '@preact/signals';
import { api } from '../link/api.js';
import { openFeed } from '../link/feed.js';
import { keepOffline, startWorker } from '../link/phone.js';
import { darkHourPage } from './dark-hour.js';
import { hear, openRoom, type Room } from './room.js';
import { session } from './session.js';

const TRAILS_AGAIN_MS = 180_000;
const RELOADED = 'nightwater-reloaded-for';

/** The room that the gateway tells of: its feed, its clock between words, its trails. */
export const openLiveRoom = (): { readonly room: Room; readonly close: () => void } => {
  const room = openRoom(Date.now());
  const stops: (() => void)[] = [];
  stops.push(
    openFeed({
      since: () => room.picture.value?.sequence,
      hear: (event) => hear(room, event),
      onState: (state) => {
        room.feed.value = state;
      },
      onRefused: () => {
        session.value = { first: false, demo: false };
      },
      nowMs: () => room.nowMs.value,
      reload: reloadOnce,
    }),
  );
  stops.push(tick(room), followTrails(room), keepDarkHour(room));
  const close = (): void => {
    for (const stop of stops) stop();
  };
  return { room, close };
};

/** Between two words of the gateway the clock goes on by the device's own steady clock, whatever the device thinks the date is. */
const tick = (room: Room): (() => void) => {
  let last = performance.now();
  const timer = setInterval(() => {
    const now = performance.now();
    room.nowMs.value += now - last;
    last = now;
  }, 1000);
  const stop = effect(() => {
    void room.heardMs.value;
    last = performance.now();
  });
  return () => {
    clearInterval(timer);
    stop();
  };
};

const DARK_HOUR_MS = 60_000;

/** Each minute the device learns what it would say without network. */
const keepDarkHour = (room: Room): (() => void) => {
  void startWorker();
  const keep = (): void => {
    const picture = room.picture.value;
    if (picture !== undefined) keepOffline(darkHourPage(picture, room.reader.value));
  };
  const first = effect(() => {
    if (room.picture.value !== undefined) queueMicrotask(() => first());
    if (room.picture.value !== undefined) keep();
  });
  const timer = setInterval(keep, DARK_HOUR_MS);
  return () => {
    clearInterval(timer);
    first();
  };
};

const followTrails = (room: Room): (() => void) => {
  const fetchTrails = async (): Promise<void> => {
    const asked = await api.trails();
    if (asked.ok) room.trails.value = asked.value;
  };
  const timer = setInterval(() => void fetchTrails(), TRAILS_AGAIN_MS);
  const stop = effect(() => {
    if (room.feed.value.kind === 'live') void fetchTrails();
  });
  return () => {
    clearInterval(timer);
    stop();
  };
};

/** Once a build, so that two builds that disagree for good do not reload each other for ever. */
const reloadOnce = (build: string): void => {
  if (sessionStorage.getItem(RELOADED) === build) return;
  sessionStorage.setItem(RELOADED, build);
  location.reload();
};
