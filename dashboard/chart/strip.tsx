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
const FRAME_MS = 10;
/** A strip without a picture yet is worth more: nobody taps what is not there. */
const FIRST_FRAME_MS = 40;

/** A float at the edge of its cell reaches over it by this much. */
const REACH_PX = 14;

type Wanted = { readonly cell: Cell; readonly trailOf: TrailOf };

/** One canvas a cell, so that a tank that moved costs its own piece of the screen and no more. */
type Sheet = {
  readonly papers: readonly HTMLCanvasElement[];
  readonly spans: readonly CellSpan[];
  readonly geometry: StripGeometry;
  readonly palette: Palette;
  /** What each cell shows, and from what it was made. */
  readonly drawn: (CellScene | undefined)[];
  readonly made: (Wanted | undefined)[];
  readonly wanted: Wanted[];
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
    const palette = readPalette(element);
    const sheet: Sheet = { papers, spans, geometry, palette, drawn: [], made: [], wanted: [] };
    const stop = effect(() => follow(sheet, latest.current.cells(), latest.current.trails()));
    return () => {
      stop();
      waiting.delete(sheet);
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

/** Notes every cell that is another one than before; its scene is made when there is time to draw it. */
const follow = (sheet: Sheet, cells: readonly Cell[], trailOf: TrailOf): void => {
  let moved = false;
  for (const [index, cell] of cells.entries()) {
    const old = sheet.wanted[index];
    if (old?.cell === cell && old.trailOf === trailOf) continue;
    sheet.wanted[index] = { cell, trailOf };
    moved = true;
  }
  if (!moved) return;
  waiting.add(sheet);
  frame ??= requestAnimationFrame(drawWaiting);
};

/** Strips of all lines share a frame's time; who came first is drawn first. */
const waiting = new Set<Sheet>();
let frame: number | undefined;

const drawWaiting = (): void => {
  frame = undefined;
  const beganMs = performance.now();
  for (const sheet of waiting) {
    const untilMs = beganMs + (sheet.made.length < sheet.wanted.length ? FIRST_FRAME_MS : FRAME_MS);
    if (!drawMoved(sheet, untilMs)) break;
    waiting.delete(sheet);
  }
  if (waiting.size > 0) frame = requestAnimationFrame(drawWaiting);
};

/** Draws what moved until the time is up; true when nothing is left. */
const drawMoved = (sheet: Sheet, untilMs: number): boolean => {
  for (const [index, wanted] of sheet.wanted.entries()) {
    const span = sheet.spans[index];
    if (span === undefined || sheet.made[index] === wanted) continue;
    if (performance.now() > untilMs) return false;
    sheet.made[index] = wanted;
    const scene = cellScene(wanted.cell, span, sheet.geometry, wanted.trailOf);
    if (!looksSame(sheet.drawn[index], scene)) drawOn(sheet, index, scene);
  }
  return true;
};

const drawOn = ({ papers, geometry, palette, drawn }: Sheet, index: number, scene: CellScene): void => {
  const paper = papers[index]?.getContext('2d');
  if (paper === null || paper === undefined) return;
  const ratio = devicePixelRatio;
  const left = scene.span.x - REACH_PX;
  paper.setTransform(ratio, 0, 0, ratio, -left * ratio, 0);
  paper.clearRect(left, 0, scene.span.width + 2 * REACH_PX, geometry.height);
  drawCell(paper, scene, geometry, palette);
  drawn[index] = scene;
};
