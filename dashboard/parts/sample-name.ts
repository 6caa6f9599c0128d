/** Rooms of an invented hatchery, for looking at every part without a gateway. No reading here was ever measured. */
export const SAMPLE_ROOMS = ['calm', 'alarmed', 'storm', 'forty', 'sixty', 'one', 'empty', 'lost', 'broker'] as const;
export type SampleRoom = (typeof SAMPLE_ROOMS)[number];

/** Pages of one such room, each at its own address. */
export const SAMPLE_PAGES = [
  'alarmed.alive',
  'alarmed.alarm',
  'alarmed.alarms',
  'alarmed.tank',
  'alarmed.hot',
  'alarmed.sources',
  'alarmed.places',
  'alarmed.reading',
  'alarmed.first',
  'alarmed.sign-in',
] as const;

export const isSampleRoom = (text: string): text is SampleRoom => SAMPLE_ROOMS.some((room) => room === text);

/** 02:21 on a winter night in the sample's zone. */
export const SAMPLE_NOW_MS = Date.UTC(2026, 10, 25, 7, 21, 8);
