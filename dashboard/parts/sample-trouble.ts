import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Finding } from '../../rules/conditions/finding.js';
import type { ChannelPicture, Picture, PlacePicture } from '../../rules/wire/picture.js';
import type { SampleRoom } from './sample-name.js';

const MINUTE_MS = 60_000;

/** What is wrong in a sample room. */
type Trouble = (picture: Picture, nowMs: number) => Picture;
type Change = Partial<ChannelPicture>;

const withChannel = (picture: Picture, id: string, change: Change): Picture => ({
  ...picture,
  channels: picture.channels.map((channel) => (channel.id === id ? { ...channel, ...change } : channel)),
});

const withPlace = (picture: Picture, id: string, change: Partial<PlacePicture>): Picture => ({
  ...picture,
  places: picture.places.map((place) => (place.id === id ? { ...place, ...change } : place)),
});

/** An open alarm of the sample, with whatever of its finding matters. */
const sampleAlarm = (finding: Finding, activatedMs: number, change: Partial<AlarmPicture> = {}): AlarmPicture => ({
  id: `a-${finding.condition}-${finding.placeId}`,
  subject: finding.channelId ?? finding.placeId,
  finding,
  priority: finding.priority,
  state: 'unack',
  activatedMs,
  changedMs: activatedMs,
  ...change,
});

/** The heater of L2, stuck on since 01:40. */
const heaterStuck = (nowMs: number): AlarmPicture =>
  sampleAlarm(
    {
      condition: 'heater-stuck-on',
      placeId: 'l2',
      channelId: 'l2.temperature',
      priority: 'high',
      sinceMs: nowMs - 41 * MINUTE_MS,
      value: 29.9,
      perHour: 2.9,
      line: { kind: 'ceiling', side: 'high', value: 32 },
      harm: {
        atMs: nowMs + 44 * MINUTE_MS,
        earliestMs: nowMs + 34 * MINUTE_MS,
        latestMs: nowMs + 59 * MINUTE_MS,
        basis: ['slope-40-min'],
      },
      evidence: ['only-this-tank'],
      checks: ['heater-off-at-wall', 'air-running', 'cool-slowly-sealed-ice'],
    },
    nowMs - 7 * MINUTE_MS,
  );

const lowSalinity = (picture: Picture, id: string, value: number): Picture =>
  withChannel(picture, `${id}.salinity`, { state: 'outside-target', value });

const alarmed: Trouble = (start, nowMs) => {
  let picture = withChannel(start, 'l2.temperature', {
    state: 'outside-target',
    value: 29.9,
    sinceMs: nowMs - 41 * MINUTE_MS,
  });
  picture = withChannel(picture, 'b3.oxygen-saturation', {
    state: 'outside-target',
    value: 74,
    sinceMs: nowMs - 38 * MINUTE_MS,
  });
  picture = withChannel(picture, 'b5.oxygen-saturation', {
    state: 'silent',
    atMs: nowMs - 12 * MINUTE_MS,
    sinceMs: nowMs - 9 * MINUTE_MS,
    notWatched: 'silent',
  });
  picture = withPlace(picture, 'l4', {
    work: {
      id: 'w1',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: nowMs - 11 * MINUTE_MS,
      untilMs: nowMs + 24 * MINUTE_MS,
    },
  });
  picture = ['s1', 's2', 's3', 's4'].reduce((room, id, index) => lowSalinity(room, id, 24.6 - index * 0.2), picture);
  const silent = sampleAlarm(
    {
      condition: 'silent',
      placeId: 'b5',
      channelId: 'b5.oxygen-saturation',
      priority: 'low',
      sinceMs: nowMs - 12 * MINUTE_MS,
    },
    nowMs - 9 * MINUTE_MS,
  );
  const fresh = sampleAlarm(
    {
      condition: 'line-moved-together',
      placeId: 'seed-line',
      priority: 'low',
      sinceMs: nowMs - 70 * MINUTE_MS,
      evidence: ['intake-agrees'],
    },
    nowMs - 50 * MINUTE_MS,
  );
  return { ...picture, alarms: [silent, fresh, heaterStuck(nowMs)] };
};

/** Three loud alarms, one of them answered, and a probe that cannot be believed. */
const storm: Trouble = (start, nowMs) => {
  let picture = alarmed(start, nowMs);
  picture = withChannel(picture, 'l1.oxygen-saturation', { state: 'outside-limit', value: 61 });
  picture = withChannel(picture, 'b1.temperature', { state: 'outside-limit', value: 26.4 });
  picture = withChannel(picture, 'l5.salinity', { state: 'not-plausible', value: 27.9 });
  picture = withChannel(picture, 'b2.salinity', { notWatched: 'no-limit' });
  const oxygen = sampleAlarm(
    {
      condition: 'oxygen-falling',
      placeId: 'l1',
      channelId: 'l1.oxygen-saturation',
      priority: 'high',
      sinceMs: nowMs - 26 * MINUTE_MS,
      value: 61,
      perHour: -14,
      line: { kind: 'limit', side: 'low', value: 65 },
      evidence: ['only-this-tank'],
      checks: ['air-running', 'blower-running', 'spare-air'],
    },
    nowMs - 3 * MINUTE_MS,
    { state: 'ack', acknowledgedBy: 'Ines', acknowledgedMs: nowMs - 2 * MINUTE_MS },
  );
  const warm = sampleAlarm(
    {
      condition: 'above-limit',
      placeId: 'b1',
      channelId: 'b1.temperature',
      priority: 'medium',
      sinceMs: nowMs - 15 * MINUTE_MS,
      value: 26.4,
      perHour: 0.3,
      line: { kind: 'limit', side: 'high', value: 26 },
      unconfirmed: true,
    },
    nowMs - 5 * MINUTE_MS,
  );
  return { ...picture, alarms: [...picture.alarms, oxygen, warm] };
};

const forty: Trouble = (start, nowMs) => {
  const picture = withChannel(alarmed(start, nowMs), 'd4.temperature', { state: 'outside-target', value: 21.4 });
  return withChannel(picture, 'e6.oxygen-saturation', { state: 'outside-target', value: 77 });
};

const unchanged: Trouble = (picture) => picture;
const drained: Trouble = (start, nowMs) =>
  withPlace(start, 'l4', {
    work: {
      id: 'w1',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: nowMs - 11 * MINUTE_MS,
      untilMs: nowMs + 24 * MINUTE_MS,
    },
  });

/** The trouble of each sample room. */
export const TROUBLE: { readonly [room in SampleRoom]: Trouble } = {
  calm: drained,
  alarmed,
  storm,
  forty,
  sixty: unchanged,
  one: unchanged,
  empty: unchanged,
  lost: alarmed,
  broker: unchanged,
};
