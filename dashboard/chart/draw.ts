import { SHAPES, type Tone } from './mark.js';
import type { CellScene, FloatScene, StripGeometry } from './scene.js';
import { LIMIT_AT, TARGET_AT } from './waterline.js';

/** Colours by role, read once per palette from the page's own tokens. */
export type Palette = {
  readonly ground: string;
  readonly ink: string;
  readonly muted: string;
  readonly water: string;
  readonly deep: string;
  readonly surface: string;
  readonly limit: string;
  readonly float: string;
  readonly trail: string;
  readonly alarm: string;
  readonly sand: string;
};

const ROLES = [
  'ground',
  'ink',
  'muted',
  'water',
  'deep',
  'surface',
  'limit',
  'float',
  'trail',
  'alarm',
  'sand',
] as const;

export const readPalette = (element: Element): Palette => {
  const style = getComputedStyle(element);
  const roles = Object.fromEntries(ROLES.map((role) => [role, style.getPropertyValue(`--${role}`).trim()]));
  return { ...FALLBACK, ...roles };
};
const FALLBACK: Palette = {
  ground: '#000',
  ink: '#fff',
  muted: '#999',
  water: '#123',
  deep: '#012',
  surface: '#888',
  limit: '#888',
  float: '#aaa',
  trail: '#777',
  alarm: '#f75',
  sand: '#875',
};

const toneColour = (tone: Tone, palette: Palette): string =>
  ({ calm: palette.float, ink: palette.ink, alarm: palette.alarm, muted: palette.muted })[tone];

/** Draws one cell over whatever stood there. */
export const drawCell = (
  paper: CanvasRenderingContext2D,
  scene: CellScene,
  geometry: StripGeometry,
  palette: Palette,
): void => {
  drawWater(paper, scene, geometry, palette);
  for (const float of scene.floats) drawTrail(paper, float, geometry, palette);
  for (const float of scene.floats) drawFloat(paper, float, geometry, palette);
};

const drawWater = (
  paper: CanvasRenderingContext2D,
  { span, bed, empty }: CellScene,
  { middle, unit, bedY, radius }: StripGeometry,
  palette: Palette,
): void => {
  const top = Math.round(middle - TARGET_AT * unit);
  const depth = Math.round(2 * TARGET_AT * unit);
  if (!empty) {
    const water = paper.createLinearGradient(0, top, 0, top + depth);
    water.addColorStop(0, palette.water);
    water.addColorStop(1, palette.deep);
    paper.fillStyle = water;
    paper.fillRect(span.x, top, span.width, depth);
  }
  paper.lineWidth = 2;
  paper.strokeStyle = palette.surface;
  paper.setLineDash(empty ? [8, 8] : []);
  line(paper, span.x, top, span.x + span.width, top);
  line(paper, span.x, top + depth, span.x + span.width, top + depth);
  paper.strokeStyle = palette.limit;
  paper.lineCap = 'round';
  paper.lineWidth = 2.5;
  paper.setLineDash([0.1, 9]);
  for (const side of [-1, 1]) {
    const y = Math.round(middle + side * LIMIT_AT * unit);
    line(paper, span.x, y, span.x + span.width, y);
  }
  paper.setLineDash([]);
  if (bed) {
    paper.lineCap = 'butt';
    paper.fillStyle = palette.sand;
    paper.fillRect(span.x, bedY, span.width, Math.max(3, radius * 0.45));
  }
};

const line = (paper: CanvasRenderingContext2D, x1: number, y1: number, x2: number, y2: number): void => {
  paper.beginPath();
  paper.moveTo(x1, y1);
  paper.lineTo(x2, y2);
  paper.stroke();
};

const drawTrail = (
  paper: CanvasRenderingContext2D,
  float: FloatScene,
  { radius }: StripGeometry,
  palette: Palette,
): void => {
  const [first] = float.trail;
  if (first === undefined) return;
  const colour = float.tone === 'calm' ? palette.trail : toneColour(float.tone, palette);
  const fading = paper.createLinearGradient(first[0] ?? 0, 0, float.x, 0);
  fading.addColorStop(0, `${colour}20`);
  fading.addColorStop(0.35, colour);
  paper.strokeStyle = fading;
  paper.lineWidth = Math.max(1.5, radius * (float.tone === 'alarm' ? 0.36 : float.tone === 'ink' ? 0.26 : 0.2));
  paper.lineJoin = 'round';
  paper.lineCap = 'round';
  for (const run of float.trail) {
    paper.beginPath();
    for (let i = 0; i + 1 < run.length; i += 2) paper.lineTo(run[i] ?? 0, run[i + 1] ?? 0);
    paper.stroke();
  }
};

const paths = new Map<string, Path2D>();
const pathOf = (path: string): Path2D => {
  const kept = paths.get(path) ?? new Path2D(path);
  paths.set(path, kept);
  return kept;
};

const drawFloat = (
  paper: CanvasRenderingContext2D,
  float: FloatScene,
  { radius }: StripGeometry,
  palette: Palette,
): void => {
  const shape = SHAPES[float.mark];
  const colour = toneColour(float.tone, palette);
  if (float.ceilingY !== undefined) {
    paper.strokeStyle = colour;
    paper.lineWidth = Math.max(2, radius * 0.3);
    line(paper, float.x - radius * 2, float.ceilingY, float.x + radius * 2, float.ceilingY);
  }
  const size = radius * shape.scale;
  paper.save();
  paper.translate(float.x, float.y);
  paper.scale(size, size);
  if (float.mark === 'unwatched') drawOpen(paper, pathOf(shape.path), colour, 0.42, []);
  else {
    paper.fillStyle = shape.filled ? colour : palette.ground;
    paper.strokeStyle = palette.ground;
    paper.lineWidth = 0.3;
    if (float.mark !== 'lifted') {
      paper.stroke(pathOf(shape.path));
      paper.fill(pathOf(shape.path));
    }
    if (!shape.filled) drawOpen(paper, pathOf(shape.path), colour, 0.3, shape.dashed === true ? [0.42, 0.365] : []);
  }
  paper.restore();
};

const drawOpen = (
  paper: CanvasRenderingContext2D,
  path: Path2D,
  colour: string,
  width: number,
  dash: readonly number[],
): void => {
  paper.strokeStyle = colour;
  paper.lineWidth = width;
  paper.lineCap = dash.length > 0 ? 'butt' : 'round';
  paper.setLineDash([...dash]);
  paper.stroke(path);
  paper.setLineDash([]);
};
