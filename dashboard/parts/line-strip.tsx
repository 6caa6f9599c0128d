import { useMemo } from 'preact/hooks';
import type { Quantity } from '../../rules/quantity.js';
import { namesFor } from '../../rules/words/name.js';
import type { CellSpan, StripGeometry } from '../chart/scene.js';
import { StripDrawing } from '../chart/strip.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import type { StripShape } from '../state/strip-shape.js';
import { cellSpans, FULL_CELL, type WallLayout } from '../state/wall-layout.js';
import { Labels } from './label.js';
import { Beneath, Beside } from './said-words.js';

/** The drawing reaches this far over the rows above and below, for floats beyond the limits. */
const BLEED_PX = 16;
const GAP_PX = 6;
/** A small room is not blown up beyond this. */
const LEAST_ACROSS = 4;

type LineStripProps = {
  readonly shape: StripShape;
  readonly layout: WallLayout;
  /** Cells of the longest line: all lines share its grid, so that the eye runs down the tanks. */
  readonly across: number;
};

/** One supply line on the wall: its name, its water, its tanks, and in words whatever is not lying in the water. */
export const LineStrip = ({ shape, layout, across }: LineStripProps) => {
  const room = useRoom();
  const { px, density, strip } = layout;
  const spans = useMemo(
    () =>
      cellSpans(
        shape.places.map(({ narrow }) => ({ narrow })),
        strip.width,
        { gap: GAP_PX * px, widest: (strip.width + GAP_PX * px) / Math.max(LEAST_ACROSS, across) },
      ),
    [shape, strip.width, px, across],
  );
  const full = spans.every((span) => span.width >= FULL_CELL * px);
  const geometry = stripGeometry(strip.width, strip.water, px, shape, spans);
  const end = (spans.at(-1)?.x ?? 0) + (spans.at(-1)?.width ?? 0);
  return (
    <section class="line" style={{ width: `${strip.width}px` }} aria-label={shape.name}>
      <header class="line-title" style={{ height: `${strip.title}px` }}>
        <h2>{shape.name}</h2>
        {density === 'close' ? (
          <Beside shape={shape} px={px} width={strip.width} />
        ) : shape.stage === undefined ? null : (
          <p class="line-stage">{shape.stage}</p>
        )}
      </header>
      <div class="line-water" style={{ height: `${strip.water}px`, '--bleed': `${BLEED_PX * px}px` }}>
        {density === 'full' && full ? <Columns columns={shape.columns} span={spans.at(-1)} /> : null}
        <StripDrawing
          cells={() => room.strips.value.find(({ id }) => id === shape.id)?.cells ?? []}
          trails={() => room.trailOf.value}
          spans={spans}
          geometry={geometry}
          light={shownLight.value}
        />
        {full && end < strip.width - 100 * px ? <Scale geometry={geometry} x={end + 12 * px} /> : null}
      </div>
      <Labels places={shape.places} spans={spans} full={full} px={px} height={strip.labels} />
      {density === 'full' ? (
        <Beneath shape={shape} spans={spans} px={px} width={strip.width} height={strip.words} />
      ) : null}
    </section>
  );
};

const stripGeometry = (
  width: number,
  slot: number,
  px: number,
  shape: StripShape,
  spans: readonly CellSpan[],
): StripGeometry => {
  const bed = shape.bed ? 12 * px : 0;
  const column = (spans[0]?.width ?? width) / Math.max(1, shape.columns.length);
  const unit = Math.min((slot - bed) / 4.8, 40 * px);
  const radius = Math.max(5 * px, Math.min(13 * px, column * 0.3, unit * 0.48));
  const height = slot + 2 * BLEED_PX * px;
  return { width, height, middle: BLEED_PX * px + (slot - bed) / 2, unit, radius, bedY: BLEED_PX * px + slot - 8 * px };
};

/** What each column of the line is, over its last tank. */
const Columns = ({ columns, span }: { columns: readonly Quantity[]; span: CellSpan | undefined }) => {
  const names = namesFor(useRoom().reader.value).short;
  if (span === undefined) return null;
  return (
    <ul class="line-columns" aria-hidden="true">
      {columns.map((quantity, index) => (
        <li key={quantity} style={{ left: `${span.x + (span.width / columns.length) * (index + 0.74)}px` }}>
          {names[quantity]}
        </li>
      ))}
    </ul>
  );
};

/** The scale named at its right end, where the line leaves room. */
const Scale = ({ geometry, x }: { geometry: StripGeometry; x: number }) => (
  <ul class="line-scale" aria-hidden="true" style={{ left: `${x}px` }}>
    <li style={{ top: `${geometry.middle - 2 * geometry.unit}px` }}>limit</li>
    <li style={{ top: `${geometry.middle}px` }}>target</li>
    <li style={{ top: `${geometry.middle + 2 * geometry.unit}px` }}>limit</li>
  </ul>
);
