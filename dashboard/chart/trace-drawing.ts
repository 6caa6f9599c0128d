import type { Harm, Line } from '../../rules/conditions/finding.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { Wants } from '../../rules/wire/picture.js';
import { clockTicks, durationWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { namesFor } from '../../rules/words/name.js';
import { lineWords, valueWords } from '../../rules/words/number.js';
import { OWN_EDGE, ownScale } from './columns.js';
import type { Palette } from './draw.js';
import { fanOf } from './fan.js';
import { gapsOnPaper } from './gap.js';
import type { Mark, Tone } from './mark.js';
import {
  type NamedLine,
  paintFan,
  paintGaps,
  paintLimits,
  paintLine,
  paintMark,
  paintWater,
  paintWord,
  type TracePaper,
} from './trace-paint.js';
import { LIMIT_AT, type Scale, waterline } from './waterline.js';

export type TraceProps = {
  readonly readings: ChannelReadings;
  readonly wants: Wants | undefined;
  readonly reader: Reader;
  /** What stands at the end of the trace. */
  readonly now?: { readonly atMs: number; readonly value: number; readonly mark: Mark; readonly tone: Tone };
  readonly forecast?: { readonly harm: Harm; readonly line: Line };
  readonly fromMs: number;
  readonly toMs: number;
  readonly height: number;
  /** Lines of the scale that are named on the paper. */
  readonly named: boolean;
  /** The time axis; stacked traces share the lowest one's. */
  readonly clock: boolean;
  readonly light: string;
};

const HOUR_MS = 3_600_000;
/** Room of a limit's name at the left of the paper. */
const NAMED_PX = 104;

export const scaleOf = (readings: ChannelReadings, wants: Wants | undefined, ahead: boolean): Scale => {
  const wanted = waterline(readings.quantity, wants);
  if (wanted(0) === undefined) return ownScale(readings);
  return ahead ? stretched(wanted) : wanted;
};

/** A forecast happens beyond the limits: there this paper gives it more room than a strip of the wall. */
const AHEAD_STRETCH = 2.4;
const stretched =
  (scale: Scale): Scale =>
  (value) => {
    const place = scale(value);
    if (place === undefined || Math.abs(place) <= LIMIT_AT) return place;
    return Math.sign(place) * (LIMIT_AT + (Math.abs(place) - LIMIT_AT) * AHEAD_STRETCH);
  };

/** A trace with everything that its paper is worked out from. */
export type Drawing = TraceProps & {
  readonly scale: Scale;
  readonly width: number;
  /** Read from the page when the plot is built. */
  readonly palette: Palette | undefined;
};

export const inkOf = ({ palette, now }: Drawing): string =>
  (now?.tone === 'ink' || now?.tone === 'alarm' ? palette?.ink : palette?.trail) ?? 'transparent';

/** The paper holds both limits, and whatever stands or is forecast beyond them. */
export const edgesOf = ({ now, forecast, scale }: Drawing): { readonly low: number; readonly high: number } => {
  const places = [now?.value, forecast?.line.value].flatMap((value) =>
    value === undefined ? [] : (scale(value) ?? []),
  );
  const room = forecast === undefined ? 0.3 : 0.75;
  return { low: Math.min(-LIMIT_AT, ...places) - 0.3, high: Math.max(LIMIT_AT, ...places) + room };
};

/** Least room of a clock time and the space after it; half a time has room at neither edge of the paper. */
const TICK_PX = 84;
const EDGE_PX = 26;

export const ticksOf = ({ fromMs, toMs, reader, width }: Drawing): readonly number[] => {
  const pxPerMs = width / (toMs - fromMs);
  const every = [1, 2, 3, 6, 12].find((step) => pxPerMs * step * HOUR_MS > TICK_PX) ?? 12;
  return clockTicks(fromMs, toMs, every, reader.zone).filter(
    (atMs) => Math.min(atMs - fromMs, toMs - atMs) * pxPerMs >= EDGE_PX,
  );
};

export const paintBehind = (paper: TracePaper, drawing: Drawing): void => {
  const { wants, readings, reader, named, scale } = drawing;
  if (wants === undefined) {
    paintSpan(paper, readings, reader);
    return;
  }
  paintWater(paper);
  if (!named) paintLimits(paper);
  else for (const line of namedLines(drawing, scale)) paintLine(paper, line);
  const { gap } = namesFor(reader);
  const gaps = gapsOnPaper(readings.gaps, {
    xOf: paper.xOf,
    left: paper.left,
    right: paper.right,
    reserved: named ? NAMED_PX * paper.ratio : 0,
    say: (reason, lengthMs) => `${gap[reason]} ${durationWords(lengthMs, reader)}`,
    widthOf: (text) => text.length * 8.6 * paper.ratio,
  });
  paintGaps(paper, gaps);
};

/** A channel that wants nothing has no lines: its highest and lowest value say what the paper spans. */
const paintSpan = (paper: TracePaper, { quantity, min, max }: ChannelReadings, reader: Reader): void => {
  const values = [...min, ...max].filter((value) => value !== null);
  if (values.length === 0) return;
  paintWord(paper, OWN_EDGE, valueWords(quantity, Math.max(...values), reader));
  paintWord(paper, -OWN_EDGE, valueWords(quantity, Math.min(...values), reader));
};

const namedLines = ({ wants, readings, reader, forecast }: Drawing, scale: Scale): readonly NamedLine[] => {
  const line = (value: number | undefined, word: string, ceiling: boolean): readonly NamedLine[] => {
    const place = value === undefined ? undefined : scale(value);
    return value === undefined || place === undefined
      ? []
      : [{ place, label: `${word} ${lineWords(readings.quantity, value, reader)}`, ceiling }];
  };
  const near = forecast?.line.side;
  return [
    ...line(wants?.limitHigh, near === 'low' ? '' : 'limit', false),
    ...line(wants?.limitLow, near === 'high' ? '' : 'limit', false),
    ...(near === 'high' ? line(wants?.ceilingHigh, 'ceiling', true) : []),
    ...(near === 'low' ? line(wants?.ceilingLow, 'floor', true) : []),
  ].map((one) => (one.label.startsWith(' ') ? { ...one, label: '' } : one));
};

export const paintBefore = (paper: TracePaper, { now, forecast, scale, toMs }: Drawing): void => {
  const place = now === undefined ? undefined : scale(now.value);
  if (now === undefined || place === undefined) return;
  if (forecast !== undefined) {
    const linePlace = scale(forecast.line.value) ?? (forecast.line.side === 'high' ? LIMIT_AT : -LIMIT_AT);
    paintFan(paper, fanOf({ atMs: now.atMs, place }, forecast.harm, linePlace, toMs));
  }
  paintMark(paper, { ...now, place });
};
