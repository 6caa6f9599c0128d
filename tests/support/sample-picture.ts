import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { ChannelPicture, Picture, PlacePicture } from '../../rules/wire/picture.js';
import type { Reader } from '../../rules/words/language.js';

export const READER: Reader = { zone: 'America/New_York', hours: 24, temperatureUnit: 'C' };
/** 02:21 on Wednesday 25 November 2026 in New York. */
export const NOW_MS = Date.UTC(2026, 10, 25, 7, 21);
export const MINUTE_MS = 60_000;

export const tank = (id: string, change: Partial<PlacePicture> = {}): PlacePicture => ({
  id,
  kind: 'tank',
  name: id.toUpperCase(),
  order: 0,
  ...change,
});

export const channel = (placeId: string, change: Partial<ChannelPicture> = {}): ChannelPicture => {
  const quantity = change.quantity ?? 'temperature';
  return {
    id: `${placeId}.${quantity}`,
    placeId,
    quantity,
    computed: false,
    state: 'in-target',
    sinceMs: NOW_MS - 60 * MINUTE_MS,
    value: 26,
    atMs: NOW_MS - 1000,
    wants: { targetLow: 24, targetHigh: 28, limitLow: 22, limitHigh: 30, ceilingHigh: 32, confirmed: true },
    ...change,
  };
};

export const alarm = (id: string, change: Partial<AlarmPicture> = {}): AlarmPicture => ({
  id,
  subject: 'l2.temperature',
  priority: change.finding?.priority ?? 'high',
  state: 'unack',
  activatedMs: NOW_MS - 7 * MINUTE_MS,
  changedMs: NOW_MS - 7 * MINUTE_MS,
  ...change,
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: NOW_MS - 41 * MINUTE_MS,
    ...change.finding,
  },
});

export const picture = (change: Partial<Picture> = {}): Picture => ({
  atMs: NOW_MS,
  sequence: 10,
  site: { id: 'mill-creek-2a9x', name: 'Mill Creek', zone: READER.zone, temperatureUnit: 'C', hours: 24, demo: true },
  places: [],
  channels: [],
  alarms: [],
  boards: [],
  link: { broker: 'up', sinceMs: NOW_MS },
  unnamedSources: 0,
  ...change,
});
