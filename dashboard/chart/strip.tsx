import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { Cell } from '../state/strip.js';
import { drawCell, type Palette, readPalette } from './draw.js';
import { type CellScene, type CellSpan, cellScene, looksSame, type StripGeometry, type TrailOf } from './scene.js';

export type StripProps = {
  readonly cells: readonly Cell[];
  readonly spans: readonly CellSpan[];
  readonly geometry: StripGeometry;
  readonly trailOf: TrailOf;
  /** Changes when the palette does, so that the strip is drawn anew. */
  readonly light: string;
};

/** A frame may spend this long on drawing; the rest waits for the next, so that sixty tanks never hold up a tap. */
const FRAME_MS = 8;

/** What a strip still has to draw. One per canvas, kept over renders. */
type Sheet = {
  drawn: (CellScene | undefined)[];
  wanted: readonly CellScene[];
  geometry: StripGeometry;
  palette: Palette | undefined;
  frame: number | undefined;
};

/** The strip of a supply line on a canvas: only cells that moved are drawn again, and at most once a frame. */
export const StripDrawing = ({ cells, spans, geometry, trailOf, light }: StripProps) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const sheet = useRef<Sheet>({ drawn: [], wanted: [], geometry, palette: undefined, frame: undefined });

  useLayoutEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    sizePaper(element, geometry);
    sheet.current.drawn = [];
    sheet.current.geometry = geometry;
    sheet.current.palette = readPalette(element);
  }, [geometry.width, geometry.height, geometry.unit, geometry.middle, light]);

  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    sheet.current.wanted = cells.flatMap((cell, index) => {
      const span = spans[index];
      return span === undefined ? [] : [cellScene(cell, span, geometry, trailOf)];
    });
    schedule(element, sheet.current);
  });

  useEffect(() => () => cancelAnimationFrame(sheet.current.frame ?? 0), []);

  return (
    <div class="strip-drawing" aria-hidden="true">
      <canvas ref={canvas} style={{ width: `${geometry.width}px`, height: `${geometry.height}px` }} />
    </div>
  );
};

const sizePaper = (element: HTMLCanvasElement, { width, height }: StripGeometry): void => {
  const ratio = devicePixelRatio;
  element.width = Math.round(width * ratio);
  element.height = Math.round(height * ratio);
};

const schedule = (element: HTMLCanvasElement, sheet: Sheet): void => {
  sheet.frame ??= requestAnimationFrame(() => {
    sheet.frame = undefined;
    if (!drawMoved(element, sheet)) schedule(element, sheet);
  });
};

/** Draws what moved until the frame's time is up; true when nothing is left. */
const drawMoved = (element: HTMLCanvasElement, sheet: Sheet): boolean => {
  const paper = element.getContext('2d');
  if (paper === null || sheet.palette === undefined) return true;
  const began = performance.now();
  const ratio = devicePixelRatio;
  paper.setTransform(ratio, 0, 0, ratio, 0, 0);
  for (const [index, scene] of sheet.wanted.entries()) {
    if (looksSame(sheet.drawn[index], scene)) continue;
    if (performance.now() - began > FRAME_MS) return false;
    const { x, width } = scene.span;
    paper.save();
    paper.beginPath();
    paper.rect(x - 2, 0, width + 4, sheet.geometry.height);
    paper.clip();
    paper.clearRect(x - 2, 0, width + 4, sheet.geometry.height);
    drawCell(paper, scene, sheet.geometry, sheet.palette);
    paper.restore();
    sheet.drawn[index] = scene;
  }
  return true;
};
