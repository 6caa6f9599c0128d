import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import uPlot from 'uplot';
import type { Harm, Line } from '../../rules/conditions/finding.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { Wants } from '../../rules/wire/picture.js';
import { clockTicks, durationWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { namesFor } from '../../rules/words/name.js';
import { lineWords, valueWords } from '../../rules/words/number.js';
import { useElementWidth } from '../parts/element-width.js';
import { OWN_EDGE, ownScale, traceColumns, withNow } from './columns.js';
import { type Palette, readPalette } from './draw.js';
import { fanOf } from './fan.js';
import { gapsOnPaper } from './gap.js';
import type { Mark, Tone } from './mark.js';
import {
  FONT,
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
import { cursorWords, tickWords } from './trace-words.js';
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

/** Room of a limit's name at the left of the paper. */
const NAMED_PX = 104;

/** A channel's hours on its own waterline. The only file that knows uPlot. */
export const Trace = (props: TraceProps) => {
  const { readings, wants, reader, height, light } = props;
  const holder = useRef<HTMLDivElement>(null);
  const width = useElementWidth(holder);
  const ahead = props.forecast !== undefined;
  const scale = useMemo(() => scaleOf(readings, wants, ahead), [readings, wants, ahead]);
  const { now } = props;
  const columns = useMemo(() => {
    const past = traceColumns(readings, scale);
    return now === undefined ? past : withNow(past, { atMs: now.atMs, place: scale(now.value) });
  }, [readings, scale, now?.atMs, now?.value]);
  const [under, setUnder] = useState<number | undefined>(undefined);

  useEffect(() => {
    const element = holder.current;
    if (element === null || width === 0) return;
    const palette = readPalette(element);
    const plot = new uPlot(
      optionsFor({ ...props, scale, width, palette, onCursor: setUnder }),
      [columns.atMs.map((at) => at / 1000), [...columns.low], [...columns.high], [...columns.mean]],
      element,
    );
    return () => plot.destroy();
  }, [
    columns,
    width,
    height,
    light,
    props.fromMs,
    props.toMs,
    props.now?.mark,
    props.now?.tone,
    props.forecast?.harm.atMs,
    reader,
  ]);

  const said = under === undefined ? undefined : cursorWords(readings, columns.atMs[under], reader);
  return (
    <div class="trace">
      <div ref={holder} style={{ height: `${height}px` }} aria-hidden="true" />
      <p class="trace-under" aria-hidden="true">
        {said}
      </p>
    </div>
  );
};

const scaleOf = (readings: ChannelReadings, wants: Wants | undefined, ahead: boolean): Scale => {
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

type Drawing = TraceProps & {
  readonly scale: Scale;
  readonly width: number;
  readonly palette: Palette;
  readonly onCursor: (index: number | undefined) => void;
};

const optionsFor = (drawing: Drawing): uPlot.Options => {
  const { palette, width, height, fromMs, toMs, now, onCursor } = drawing;
  const ink = now?.tone === 'ink' || now?.tone === 'alarm' ? palette.ink : palette.trail;
  const edges = edgesOf(drawing);
  return {
    width,
    height,
    padding: [4, 16, 4, 2],
    legend: { show: false },
    scales: {
      x: { time: false, range: [fromMs / 1000, toMs / 1000] },
      y: { range: [edges.low, edges.high] },
    },
    axes: [clockAxis(drawing), { show: false }],
    cursor: { y: false, drag: { x: false, y: false }, points: { size: 9, fill: ink } },
    series: [
      {},
      { stroke: 'transparent', points: { show: false } },
      { stroke: 'transparent', points: { show: false } },
      { stroke: ink, width: 2.4, points: { show: false } },
    ],
    bands: [{ series: [2, 1], fill: `${ink}38` }],
    hooks: {
      drawClear: [(plot) => paintBehind(paperOf(plot, palette), drawing)],
      draw: [(plot) => paintBefore(paperOf(plot, palette), drawing)],
      setCursor: [(plot) => onCursor(plot.cursor.idx ?? undefined)],
    },
  };
};

/** The paper holds both limits, and whatever stands or is forecast beyond them. */
const edgesOf = ({ now, forecast, scale }: Drawing): { readonly low: number; readonly high: number } => {
  const places = [now?.value, forecast?.line.value].flatMap((value) =>
    value === undefined ? [] : (scale(value) ?? []),
  );
  const room = forecast === undefined ? 0.3 : 0.75;
  return { low: Math.min(-LIMIT_AT, ...places) - 0.3, high: Math.max(LIMIT_AT, ...places) + room };
};

const clockAxis = ({ clock, palette, fromMs, toMs, reader, width }: Drawing): uPlot.Axis => {
  if (!clock) return { show: false };
  const hours = (toMs - fromMs) / 3_600_000;
  const every = [1, 2, 3, 6, 12].find((step) => (width / hours) * step > 84) ?? 12;
  return {
    stroke: palette.muted,
    font: `15px ${FONT}`,
    size: 34,
    grid: { show: false },
    ticks: { show: true, stroke: palette.limit, size: 6, width: 1 },
    splits: () => clockTicks(fromMs, toMs, every, reader.zone).map((at) => at / 1000),
    values: (_plot, splits) => splits.map((at) => tickWords(at * 1000, reader)),
  };
};

const paperOf = (plot: uPlot, palette: Palette): TracePaper => ({
  context: plot.ctx,
  left: plot.bbox.left,
  right: plot.bbox.left + plot.bbox.width,
  top: plot.bbox.top,
  bottom: plot.bbox.top + plot.bbox.height,
  ratio: devicePixelRatio,
  xOf: (atMs) => plot.valToPos(atMs / 1000, 'x', true),
  yOf: (place) => plot.valToPos(place, 'y', true),
  palette,
});

const paintBehind = (paper: TracePaper, drawing: Drawing): void => {
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

const paintBefore = (paper: TracePaper, { now, forecast, scale, toMs }: Drawing): void => {
  const place = now === undefined ? undefined : scale(now.value);
  if (now === undefined || place === undefined) return;
  if (forecast !== undefined) {
    const linePlace = scale(forecast.line.value) ?? (forecast.line.side === 'high' ? LIMIT_AT : -LIMIT_AT);
    paintFan(paper, fanOf({ atMs: now.atMs, place }, forecast.harm, linePlace, toMs));
  }
  paintMark(paper, { ...now, place });
};
