import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import uPlot from 'uplot';
import { useElementWidth } from '../parts/element-width.js';
import { traceColumns, withNow } from './columns.js';
import { type Palette, readPalette } from './draw.js';
import {
  type Drawing,
  edgesOf,
  inkOf,
  paintBefore,
  paintBehind,
  scaleOf,
  type TraceProps,
  ticksOf,
} from './trace-drawing.js';
import { FONT, type TracePaper } from './trace-paint.js';
import { cursorWords, tickWords } from './trace-words.js';

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

  // The plot is built once for its paper and draws whatever is current: a new reading only tells it to draw again.
  const current = useRef<Drawing>({ ...props, scale, width, palette: undefined });
  current.current = { ...props, scale, width, palette: current.current.palette };
  const plot = useRef<uPlot | undefined>(undefined);
  const data = (): uPlot.AlignedData => [
    columns.atMs.map((at) => at / 1000),
    [...columns.low],
    [...columns.high],
    [...columns.mean],
  ];
  useEffect(() => {
    const element = holder.current;
    if (element === null || width === 0) return;
    current.current = { ...current.current, palette: readPalette(element) };
    const built = new uPlot(
      optionsFor(() => current.current, setUnder),
      data(),
      element,
    );
    plot.current = built;
    return () => {
      plot.current = undefined;
      built.destroy();
    };
  }, [width, height, light, props.clock]);
  useEffect(
    () => plot.current?.setData(data()),
    [columns, props.fromMs, props.toMs, now?.mark, now?.tone, props.forecast?.harm.atMs, reader],
  );

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

const optionsFor = (drawing: () => Drawing, onCursor: (index: number | undefined) => void): uPlot.Options => {
  const { width, height } = drawing();
  const xRange = (): uPlot.Range.MinMax => [drawing().fromMs / 1000, drawing().toMs / 1000];
  const yRange = (): uPlot.Range.MinMax => [edgesOf(drawing()).low, edgesOf(drawing()).high];
  const ink = (): string => inkOf(drawing());
  const painting =
    (paint: (paper: TracePaper, drawing: Drawing) => void) =>
    (plot: uPlot): void => {
      const { palette } = drawing();
      if (palette === undefined) return;
      // uPlot believes that the pen is as it left it.
      plot.ctx.save();
      paint(paperOf(plot, palette), drawing());
      plot.ctx.restore();
    };
  return {
    width,
    height,
    padding: [4, 16, 4, 2],
    legend: { show: false },
    scales: { x: { time: false, range: xRange }, y: { range: yRange } },
    axes: [clockAxis(drawing), { show: false }],
    cursor: { y: false, drag: { x: false, y: false }, points: { size: 9, fill: ink } },
    series: [
      {},
      { stroke: 'transparent', points: { show: false } },
      { stroke: 'transparent', points: { show: false } },
      { stroke: ink, width: 2.4, points: { show: false } },
    ],
    bands: [{ series: [2, 1], fill: () => `${ink()}38` }],
    hooks: {
      drawClear: [painting(paintBehind)],
      draw: [painting(paintBefore)],
      setCursor: [(plot) => onCursor(plot.cursor.idx ?? undefined)],
    },
  };
};

const clockAxis = (drawing: () => Drawing): uPlot.Axis => {
  if (!drawing().clock) return { show: false };
  return {
    stroke: () => drawing().palette?.muted ?? '',
    font: `15px ${FONT}`,
    size: 34,
    grid: { show: false },
    ticks: { show: true, stroke: () => drawing().palette?.limit ?? '', size: 6, width: 1 },
    splits: () => ticksOf(drawing()).map((at) => at / 1000),
    values: (_plot, splits) => splits.map((at) => tickWords(at * 1000, drawing().reader)),
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
