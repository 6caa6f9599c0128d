import type { ReviewedChannel } from './channel.js';
import type { Exposure } from './exposure.js';
import type { WindowName } from './window.js';

/** Something recorded after the review was frozen that is about its span and places. */
export type LaterEdit =
  | {
      readonly kind: 'entry' | 'corrected-entry' | 'struck-entry';
      readonly recordedMs: number;
      readonly atMs: number;
      readonly entryId: string;
      readonly by: string;
    }
  | {
      readonly kind: 'calibration' | 'naming' | 'place';
      readonly recordedMs: number;
      readonly what: string;
      readonly by: string;
    };

export const FIGURES = [
  'lowest',
  'highest',
  'mean',
  'measuredH',
  'hoursBeyondLimit',
  'degreeHoursBeyondLimit',
] as const;
export type Figure = (typeof FIGURES)[number];
export type FigureChange = {
  readonly window: WindowName;
  readonly figure: Figure;
  readonly before?: number;
  readonly now?: number;
};

/** A channel whose readings, or their correction, are others than when the review was frozen. */
export type ChangedChannel = {
  readonly channelId: string;
  readonly readingsBefore: number;
  readonly readingsNow: number;
  readonly figures: readonly FigureChange[];
};

const beyondLimit = ({ beyond }: Exposure, what: 'hours' | 'degreeHours'): number | undefined => {
  const { limitLow, limitHigh } = beyond;
  if (limitLow === undefined && limitHigh === undefined) return undefined;
  return (limitLow?.[what] ?? 0) + (limitHigh?.[what] ?? 0);
};

/** The figures of an exposure that a person goes by. Hours beyond either limit are summed. */
export const figureOf = (exposure: Exposure, figure: Figure): number | undefined => {
  switch (figure) {
    case 'lowest':
    case 'highest':
      return exposure[figure]?.value;
    case 'mean':
    case 'measuredH':
      return exposure[figure];
    case 'hoursBeyondLimit':
      return beyondLimit(exposure, 'hours');
    case 'degreeHoursBeyondLimit':
      return beyondLimit(exposure, 'degreeHours');
  }
};

const SAME = 1e-9;
const isOther = (a: number | undefined, b: number | undefined): boolean =>
  a === undefined || b === undefined ? a !== b : Math.abs(a - b) > SAME;

const figuresChanged = (before: ReviewedChannel, now: ReviewedChannel): readonly FigureChange[] =>
  (Object.keys(before.exposures) as readonly WindowName[]).flatMap((window) =>
    FIGURES.flatMap((figure) => {
      const [was, is] = [before.exposures[window], now.exposures[window]];
      const [a, b] = [was && figureOf(was, figure), is && figureOf(is, figure)];
      if (!isOther(a, b)) return [];
      return [{ window, figure, ...(a === undefined ? {} : { before: a }), ...(b === undefined ? {} : { now: b }) }];
    }),
  );

/** Channel by channel, what the record says now that it did not say when it was frozen. */
export const changedChannels = (
  frozen: readonly ReviewedChannel[],
  now: readonly ReviewedChannel[],
): readonly ChangedChannel[] =>
  frozen.flatMap((before) => {
    const after = now.find(({ channelId }) => channelId === before.channelId);
    if (after === undefined || after.fingerprint === before.fingerprint) return [];
    const { channelId, readings: readingsBefore } = before;
    return [{ channelId, readingsBefore, readingsNow: after.readings, figures: figuresChanged(before, after) }];
  });
