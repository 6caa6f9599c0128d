import type { ChannelPicture } from '../../rules/wire/picture.js';
import type { TrailOf } from '../state/room.js';
import type { Cell } from '../state/strip.js';
import { isLifted, type Mark, markOf, type Tone, toneOf } from './mark.js';
import { CEILING_AT, type Scale, waterline } from './waterline.js';

/** A strip on paper: pixels of its drawing, y downwards. */
export type StripGeometry = {
  readonly width: number;
  readonly height: number;
  /** y of the middle of all targets. */
  readonly middle: number;
  /** Pixels per unit of the waterline. */
  readonly unit: number;
  /** Radius of a float. */
  readonly radius: number;
  /** Where the bed lies, in tanks that have one. */
  readonly bedY: number;
};

/** Left edge and width of a cell's water. */
export type CellSpan = { readonly x: number; readonly width: number };

export type FloatScene = {
  readonly channelId: string;
  readonly mark: Mark;
  readonly tone: Tone;
  readonly x: number;
  readonly y: number;
  /** Runs without a gap, oldest first, each a list of x, y, x, y. */
  readonly trail: readonly (readonly number[])[];
  /** The ceiling that it is heading for. */
  readonly ceilingY?: number;
};

export type CellScene = {
  readonly span: CellSpan;
  readonly floats: readonly FloatScene[];
  readonly bed: boolean;
  /** No water in it by declared work. */
  readonly empty: boolean;
};

/** Narrower columns than this show the float alone. */
const TRAIL_FROM_PX = 26;
/** Where in its column a float floats; the trail lies behind it. */
const FLOAT_AT = 0.74;
/** Above the water, below the limit: where lifted probes hang. */
const LIFTED_AT = 1.5;

/** Everything to be drawn in one cell. Pure: the same cell gives the same scene, so only what moved is drawn again. */
export const cellScene = (cell: Cell, span: CellSpan, geometry: StripGeometry, trailOf: TrailOf): CellScene => {
  const lifted = isLifted(cell.place);
  const column = span.width / Math.max(1, cell.channels.length);
  const floats = cell.channels.flatMap((channel, index) =>
    channel === undefined ? [] : [floatScene(cell, channel, span.x + column * index, column, geometry, trailOf)],
  );
  return { span, floats, bed: cell.place.bed !== undefined, empty: lifted };
};

const floatScene = (
  cell: Cell,
  channel: ChannelPicture,
  left: number,
  column: number,
  geometry: StripGeometry,
  trailOf: TrailOf,
): FloatScene => {
  const alarm = cell.alarms.find(({ finding }) => finding.channelId === channel.id);
  const mark = markOf(channel, alarm, isLifted(cell.place));
  const scale = waterline(channel.quantity, channel.wants);
  const x = left + column * (column < TRAIL_FROM_PX ? 0.5 : FLOAT_AT);
  const at = placeOnLine(mark, channel, scale);
  const withTrail = column >= TRAIL_FROM_PX && mark !== 'lifted' && mark !== 'unwatched';
  const y = geometry.middle - at * geometry.unit;
  const trail = withTrail ? trailRuns(trailOf(channel.id) ?? [], scale, left + column * 0.04, x, y, geometry) : [];
  const ceiling = alarm?.finding.harm === undefined ? undefined : alarm.finding.line;
  const ceilingY =
    ceiling?.kind === 'ceiling'
      ? { ceilingY: geometry.middle - (ceiling.side === 'high' ? CEILING_AT : -CEILING_AT) * geometry.unit }
      : {};
  return { channelId: channel.id, mark, tone: toneOf(mark, alarm), x, y, trail, ...ceilingY };
};

const placeOnLine = (mark: Mark, channel: ChannelPicture, scale: Scale): number => {
  if (mark === 'lifted') return LIFTED_AT;
  if (mark === 'unwatched' || channel.value === undefined) return 0;
  return scale(channel.value) ?? 0;
};

/** Closer than this two points of a trail are one to the eye, and cost as much as two. */
const POINT_PX = 1.5;

/** A trail as dense as its paper can show: neighbours as their mean; a gap stays one where it is most of what it covers. */
export const thinned = (values: readonly (number | null)[], points: number): readonly (number | null)[] => {
  const together = Math.floor(values.length / Math.max(1, points));
  if (together < 2) return values;
  return Array.from({ length: Math.ceil(values.length / together) }, (_, at) => {
    const all = values.slice(at * together, (at + 1) * together);
    const read = all.filter((value) => value !== null);
    return 2 * read.length < all.length ? null : read.reduce((sum, value) => sum + value, 0) / read.length;
  });
};

/** The trail ends at the float; a gap breaks it. */
const trailRuns = (
  dense: readonly (number | null)[],
  scale: Scale,
  from: number,
  to: number,
  endY: number,
  { middle, unit }: StripGeometry,
): readonly (readonly number[])[] => {
  const values = thinned(dense, (to - from) / POINT_PX);
  const runs: number[][] = [];
  let run: number[] = [];
  const step = (to - from) / Math.max(1, values.length);
  for (const [index, value] of values.entries()) {
    const at = value === null ? undefined : scale(value);
    if (at === undefined) {
      if (run.length > 2) runs.push(run);
      run = [];
    } else run.push(from + index * step, middle - at * unit);
  }
  if (run.length > 0) runs.push([...run, to, endY]);
  return runs;
};

/** Less than this is not a move: on a 43 inch wall 0.4 mm, a third of a minute of arc from four metres. */
const MOVE_PX = 0.8;

/** Whether two scenes look the same to the eye. */
export const looksSame = (a: CellScene | undefined, b: CellScene): boolean =>
  a !== undefined &&
  a.span.x === b.span.x &&
  a.span.width === b.span.width &&
  a.bed === b.bed &&
  a.empty === b.empty &&
  a.floats.length === b.floats.length &&
  a.floats.every((float, index) => floatLooksSame(float, b.floats[index]));

const floatLooksSame = (a: FloatScene, b: FloatScene | undefined): boolean =>
  b !== undefined &&
  a.mark === b.mark &&
  a.tone === b.tone &&
  a.ceilingY === b.ceilingY &&
  Math.abs(a.x - b.x) < MOVE_PX &&
  Math.abs(a.y - b.y) < MOVE_PX &&
  a.trail.length === b.trail.length &&
  a.trail.every(
    (run, index) =>
      run.length === b.trail[index]?.length && run[0] === b.trail[index]?.[0] && run[1] === b.trail[index]?.[1],
  );
