import { effect } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { TrailOf } from '../state/room.js';
import type { Cell } from '../state/strip.js';
import { drawCell, type Palette, readPalette } from './draw.js';
import { type CellScene, type CellSpan, cellScene, looksSame, type StripGeometry } from './scene.js';

export type StripProps = {
  /** Read from signals: the drawing follows them without the page being rendered again. */
  readonly cells: () => readonly Cell[];
  readonly trails: () => TrailOf;
  readonly spans: readonly CellSpan[];
  readonly geometry: StripGeometry;
  /** Changes when the palette does, so that the strip is drawn anew. */
  readonly light: string;
};

/** A frame may spend this long on drawing; the rest waits for the next, so that sixty tanks never hold up a tap. */
const FRAME_MS = 6;

/** A float at the edge of its cell reaches over it by this much. */
const REACH_PX = 14;

/** One canvas a cell, so that a tank that moved costs its own piece of the screen and no more. */
type Sheet = {
  readonly papers: readonly HTMLCanvasElement[];
  readonly geometry: StripGeometry;
  readonly palette: Palette;
  readonly drawn: (CellScene | undefined)[];
  readonly wanted: CellScene[];
  frame: number | undefined;
};

/** The strip of a supply line: only cells that moved are drawn again, and at most once a frame. */
export const StripDrawing = ({ cells, trails, spans, geometry, light }: StripProps) => {
  const holder = useRef<HTMLDivElement>(null);
  const latest = useRef({ cells, trails });
  latest.current = { cells, trails };
  const { width, height, middle, unit, radius } = geometry;

  useEffect(() => {
    const element = holder.current;
    if (element === null) return;
    const papers = [...element.querySelectorAll('canvas')];
    papers.forEach((paper, index) => {
      sizePaper(paper, spans[index]?.width ?? 0, height);
    });
    const sheet: Sheet = { papers, geometry, palette: readPalette(element), drawn: [], wanted: [], frame: undefined };
    const stop = effect(() => follow(sheet, latest.current.cells(), spans, latest.current.trails()));
    return () => {
      stop();
      if (sheet.frame !== undefined) cancelAnimationFrame(sheet.frame);
    };
  }, [width, height, middle, unit, radius, spans, light]);

  return (
    <div class="strip-drawing" ref={holder} aria-hidden="true" style={{ width: `${width}px`, height: `${height}px` }}>
      {spans.map((span) => (
        <canvas
          key={span.x}
          style={{ left: `${span.x - REACH_PX}px`, width: `${span.width + 2 * REACH_PX}px`, height: `${height}px` }}
        />
      ))}
    </div>
  );
};

const sizePaper = (paper: HTMLCanvasElement, width: number, height: number): void => {
  const ratio = devicePixelRatio;
  paper.width = Math.round((width + 2 * REACH_PX) * ratio);
  paper.height = Math.round(height * ratio);
};

const known = new WeakMap<CellScene, { readonly cell: Cell; readonly trailOf: TrailOf }>();

/** Makes the scene of every cell that is another one than before, and asks for a frame where the eye would see it. */
const follow = (sheet: Sheet, cells: readonly Cell[], spans: readonly CellSpan[], trailOf: TrailOf): void => {
  let moved = false;
  for (const [index, cell] of cells.entries()) {
    const span = spans[index];
    if (span === undefined) continue;
    const old = sheet.wanted[index];
    const from = old === undefined ? undefined : known.get(old);
    if (from?.cell === cell && from.trailOf === trailOf) continue;
    const scene = cellScene(cell, span, sheet.geometry, trailOf);
    known.set(scene, { cell, trailOf });
    sheet.wanted[index] = scene;
    moved ||= !looksSame(sheet.drawn[index], scene);
  }
  if (moved) schedule(sheet);
};

const schedule = (sheet: Sheet): void => {
  sheet.frame ??= requestAnimationFrame(() => {
    sheet.frame = undefined;
    if (!drawMoved(sheet)) schedule(sheet);
  });
};

/** Draws what moved until the frame's time is up; true when nothing is left. */
const drawMoved = ({ papers, geometry, palette, drawn, wanted }: Sheet): boolean => {
  const began = performance.now();
  const ratio = devicePixelRatio;
  for (const [index, scene] of wanted.entries()) {
    if (looksSame(drawn[index], scene)) continue;
    if (performance.now() - began > FRAME_MS) return false;
    const paper = papers[index]?.getContext('2d');
    if (paper === null || paper === undefined) continue;
    const left = scene.span.x - REACH_PX;
    paper.setTransform(ratio, 0, 0, ratio, -left * ratio, 0);
    paper.clearRect(left, 0, scene.span.width + 2 * REACH_PX, geometry.height);
    drawCell(paper, scene, geometry, palette);
    drawn[index] = scene;
  }
  return true;
};
