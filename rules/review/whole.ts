import type { AlarmPicture } from '../alarm/alarm.js';
import type { Gap } from '../wire/api.js';
import type { Exposure } from './exposure.js';
import type { WindowName } from './window.js';

/** How much of a channel's time was measured, and why the rest was not. */
export type ChannelWhole = {
  readonly channelId: string;
  /** Of the window's time outside declared work; undefined where all of it was work. */
  readonly share: { readonly [window in WindowName]?: number };
  readonly gaps: readonly Gap[];
};

/** Something that a person changed in the span: a limit, a naming, a calibration. */
export type Changed = { readonly atMs: number; readonly what: string; readonly by: string };
/** An alarm that was put aside, or that says a clock is wrong. */
export type PutAside = {
  readonly atMs: number;
  readonly alarm: AlarmPicture;
  readonly event: string;
  readonly by?: string;
};
export type Corrected = {
  readonly channelId: string;
  readonly fromMs: number;
  readonly slope: number;
  readonly offset: number;
  readonly by?: string;
};

export type Wholeness = {
  readonly channels: readonly ChannelWhole[];
  readonly calibrations: readonly Corrected[];
  readonly clocks: readonly AlarmPicture[];
  readonly changes: readonly Changed[];
  readonly putAside: readonly PutAside[];
};

/** Share of the time outside declared work in which the channel was measured, 0 to 1. */
export const measuredShare = ({ measuredH, unmeasuredH }: Exposure): number | undefined => {
  const unknownH = Object.values(unmeasuredH).reduce((sum, hours) => sum + hours, 0);
  return measuredH + unknownH === 0 ? undefined : measuredH / (measuredH + unknownH);
};

const PUT_ASIDE = ['shelve', 'unshelve', 'shelve-expired', 'out-of-service', 'return-to-service'] as const;
export const isPutAside = (event: string): boolean => PUT_ASIDE.some((one) => one === event);
