import type { Palette } from './draw.js';
import type { Fan } from './fan.js';
import type { GapOnPaper } from './gap.js';
import { type Mark, SHAPES, type Tone } from './mark.js';
import { LIMIT_AT, TARGET_AT } from './waterline.js';

/** The paper of a trace: pixels of the canvas, whatever library made it. */
export type TracePaper = {
  readonly context: CanvasRenderingContext2D;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Device pixels per CSS pixel. */
  readonly ratio: number;
  readonly xOf: (atMs: number) => number;
  readonly yOf: (place: number) => number;
  readonly palette: Palette;
};

/** A line named at the left of the paper. */
export type NamedLine = { readonly place: number; readonly label: string; readonly ceiling: boolean };

export const FONT = '"B612", system-ui, sans-serif';

export const paintWater = (paper: TracePaper): void => {
  const { context, left, right, yOf, palette, ratio } = paper;
  const top = yOf(TARGET_AT);
  const bottom = yOf(-TARGET_AT);
  const water = context.createLinearGradient(0, top, 0, bottom);
  water.addColorStop(0, palette.water);
  water.addColorStop(1, palette.deep);
  context.fillStyle = water;
  context.fillRect(left, top, right - left, bottom - top);
  context.strokeStyle = palette.surface;
  context.lineWidth = 1.5 * ratio;
  for (const y of [top, bottom]) across(paper, y);
};

/** Limits are dotted, a ceiling is whole and in the alarm's colour; each says what it is. */
export const paintLine = (paper: TracePaper, line: NamedLine): void => {
  const { context, left, yOf, palette, ratio } = paper;
  const y = yOf(line.place);
  context.lineCap = 'round';
  context.lineWidth = (line.ceiling ? 2 : 2.5) * ratio;
  context.strokeStyle = line.ceiling ? palette.alarm : palette.limit;
  context.setLineDash(line.ceiling ? [] : [0.1, 8 * ratio]);
  across(paper, y);
  context.setLineDash([]);
  if (line.label === '') return;
  context.fillStyle = line.ceiling ? palette.alarm : palette.muted;
  context.font = `${15 * ratio}px ${FONT}`;
  context.textAlign = 'left';
  // A limit is named on the side of the water, a ceiling beyond: so the two never write over each other.
  const below = line.ceiling === line.place < 0;
  context.textBaseline = below ? 'top' : 'bottom';
  context.fillText(line.label, left, y + (below ? 6 : -5) * ratio);
};

/** A word at the left edge, outside of the place that it names. */
export const paintWord = ({ context, left, yOf, palette, ratio }: TracePaper, place: number, word: string): void => {
  context.fillStyle = palette.muted;
  context.font = `${15 * ratio}px ${FONT}`;
  context.textAlign = 'left';
  context.textBaseline = place > 0 ? 'bottom' : 'top';
  context.fillText(word, left, yOf(place) + (place > 0 ? -4 : 4) * ratio);
};

/** Lines of a channel with limits that nobody names: both sides, dotted. */
export const paintLimits = (paper: TracePaper): void => {
  for (const side of [-LIMIT_AT, LIMIT_AT]) paintLine(paper, { place: side, label: '', ceiling: false });
};

const across = ({ context, left, right }: TracePaper, y: number): void => {
  context.beginPath();
  context.moveTo(left, Math.round(y));
  context.lineTo(right, Math.round(y));
  context.stroke();
};

/** Hatched from water's edge to water's edge, the reason above. */
export const paintGaps = (paper: TracePaper, gaps: readonly GapOnPaper[]): void => {
  const { context, yOf, ratio, palette } = paper;
  const top = yOf(TARGET_AT);
  const bottom = yOf(-TARGET_AT);
  context.strokeStyle = palette.muted;
  context.lineWidth = 1.2 * ratio;
  for (const { from, to, label, at } of gaps) {
    context.save();
    context.beginPath();
    context.rect(from, top, to - from, bottom - top);
    context.clip();
    context.clearRect(from, top, to - from, bottom - top);
    context.beginPath();
    const lean = (bottom - top) * 0.16;
    for (let x = from - lean; x < to + lean; x += 8 * ratio) {
      context.moveTo(x, bottom);
      context.lineTo(x + lean, top);
    }
    context.stroke();
    context.restore();
    if (label === undefined) continue;
    context.fillStyle = palette.muted;
    context.font = `${15 * ratio}px ${FONT}`;
    context.textAlign = 'center';
    context.textBaseline = 'bottom';
    context.fillText(label, at, top - 6 * ratio);
  }
};

export const paintFan = ({ context, xOf, yOf, palette }: TracePaper, fan: Fan): void => {
  if (fan.length < 3) return;
  context.beginPath();
  for (const [at, place] of fan) context.lineTo(xOf(at), yOf(place));
  context.closePath();
  context.globalAlpha = 0.38;
  context.fillStyle = palette.alarm;
  context.fill();
  context.globalAlpha = 1;
};

/** The channel's mark where it stands now. */
export const paintMark = (
  { context, xOf, yOf, ratio, palette, right }: TracePaper,
  {
    atMs,
    place,
    mark,
    tone,
  }: { readonly atMs: number; readonly place: number; readonly mark: Mark; readonly tone: Tone },
): void => {
  const shape = SHAPES[mark];
  const colour = { calm: palette.float, ink: palette.ink, alarm: palette.alarm, muted: palette.muted }[tone];
  const size = 7 * ratio * shape.scale;
  context.save();
  context.translate(Math.min(xOf(atMs), right), yOf(place));
  context.scale(size, size);
  const path = new Path2D(shape.path);
  context.fillStyle = shape.filled ? colour : palette.ground;
  context.fill(path);
  if (!shape.filled) {
    context.strokeStyle = colour;
    context.lineWidth = 0.34;
    context.stroke(path);
  }
  context.restore();
};
