import { useMemo } from 'preact/hooks';
import type { Reader } from '../../rules/words/language.js';
import { namesFor, stageName } from '../../rules/words/name.js';
import type { CellSpan, StripGeometry } from '../chart/scene.js';
import { StripDrawing } from '../chart/strip.js';
import { shownLight } from '../state/light.js';
import { isLoud } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { saidOf } from '../state/said.js';
import type { Cell, Strip } from '../state/strip.js';
import { cellSpans, FULL_CELL, type WallLayout } from '../state/wall-layout.js';
import { labelValue, spokenState } from './label-words.js';
import { Beneath, Beside } from './said-words.js';
import { nameOfStrip } from './strip-name.js';
import { textWidth } from './text-width.js';

/** Names of tanks on the wall, values, and words: heights for four metres (see style/wall.css). */
const TITLE_PX = 38;
/** The drawing reaches this far over the rows above and below, for floats beyond the limits. */
const BLEED_PX = 16;
const GAP_PX = 6;
/** A small room is not blown up beyond this. */
const LEAST_ACROSS = 4;

type LineStripProps = {
  readonly strip: Strip;
  readonly layout: WallLayout;
  /** Cells of the longest line: all lines share its grid, so that the eye runs down the tanks. */
  readonly across: number;
};

/** One supply line on the wall: its name, its water, its tanks, and in words whatever is not lying in the water. */
export const LineStrip = ({ strip, layout, across }: LineStripProps) => {
  const room = useRoom();
  const reader = room.reader.value;
  const { px, density } = layout;
  const { width, water, labels } = layout.strip;
  const spans = useMemo(
    () =>
      cellSpans(
        strip.cells.map(({ place }) => ({ narrow: place.kind !== 'tank' })),
        width,
        { gap: GAP_PX * px, widest: (width + GAP_PX * px) / Math.max(LEAST_ACROSS, across) },
      ),
    [strip.cells.length, width, px, across],
  );
  const full = spans.every((span) => span.width >= FULL_CELL * px);
  const geometry = stripGeometry(width, water, px, strip, spans);
  const trails = room.trails.value;
  const said = saidOf(strip, room.nowMs.value, reader);
  const end = (spans.at(-1)?.x ?? 0) + (spans.at(-1)?.width ?? 0);
  return (
    <section class="line" style={{ width: `${width}px` }} aria-label={nameOfStrip(strip)}>
      <header class="line-title" style={{ height: `${layout.strip.title}px` }}>
        <h2>{nameOfStrip(strip)}</h2>
        {density === 'full' ? <StageOfLine strip={strip} reader={reader} /> : null}
        {density === 'close' ? (
          <Beside said={said} px={px} width={width - textWidth(nameOfStrip(strip), TITLE_PX * px)} />
        ) : null}
      </header>
      <div class="line-water" style={{ height: `${water}px`, '--bleed': `${BLEED_PX * px}px` }}>
        <Columns strip={strip} span={spans.at(-1)} hidden={density !== 'full' || !full} />
        <StripDrawing
          cells={strip.cells}
          spans={spans}
          geometry={geometry}
          trailOf={(id) => trails?.trails[id]}
          light={shownLight.value}
        />
        {full && end < width - 100 * px ? <Scale geometry={geometry} x={end + 12 * px} /> : null}
      </div>
      <Labels strip={strip} spans={spans} full={full} height={labels} />
      {density === 'full' ? (
        <Beneath said={said} spans={spans} px={px} width={width} height={layout.strip.words} />
      ) : null}
    </section>
  );
};

const stripGeometry = (
  width: number,
  slot: number,
  px: number,
  strip: Strip,
  spans: readonly CellSpan[],
): StripGeometry => {
  const bed = strip.cells.some(({ place }) => place.bed !== undefined) ? 12 * px : 0;
  const column = (spans[0]?.width ?? width) / Math.max(1, strip.columns.length);
  const unit = Math.min((slot - bed) / 4.8, 40 * px);
  const radius = Math.max(5 * px, Math.min(13 * px, column * 0.3, unit * 0.48));
  const height = slot + 2 * BLEED_PX * px;
  return { width, height, middle: BLEED_PX * px + (slot - bed) / 2, unit, radius, bedY: BLEED_PX * px + slot - 8 * px };
};

const StageOfLine = ({ strip, reader }: { strip: Strip; reader: Reader }) => {
  const stages = new Set(
    strip.cells.flatMap(({ place }) => (place.stage === undefined || place.stage === 'empty' ? [] : [place.stage])),
  );
  const [only] = stages;
  return only === undefined || stages.size > 1 ? null : <p class="line-stage">{stageName(only, reader)}</p>;
};

/** What each column of the line is, over its first tank. */
const Columns = ({ strip, span, hidden }: { strip: Strip; span: CellSpan | undefined; hidden: boolean }) => {
  const names = namesFor(useRoom().reader.value).short;
  if (hidden || span === undefined) return null;
  const column = span.width / strip.columns.length;
  return (
    <ul class="line-columns" aria-hidden="true">
      {strip.columns.map((quantity, index) => (
        <li key={quantity} style={{ left: `${span.x + column * (index + 0.74)}px` }}>
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

type LabelProps = {
  readonly strip: Strip;
  readonly spans: readonly CellSpan[];
  readonly full: boolean;
  readonly height: number;
};

/** Under each cell its tank: name and value where there is room, else the name, larger where somebody should look. */
const Labels = ({ strip, spans, full, height }: LabelProps) => (
  <ol class={full ? 'labels' : 'labels labels-close'} style={{ height: `${height}px` }}>
    {strip.cells.map((cell, index) => {
      const span = spans[index];
      return span === undefined ? null : <Label key={cell.place.id} cell={cell} span={span} full={full} />;
    })}
  </ol>
);

const Label = ({ cell, span, full }: { cell: Cell; span: CellSpan; full: boolean }) => {
  const reader = useRoom().reader.value;
  const loud = cell.alarms.some(isLoud);
  const manner = loud ? ' label-loud' : cell.wanted ? ' label-wanted' : '';
  return (
    <li class={`label${manner}`} style={{ left: `${span.x}px`, width: `${span.width}px` }}>
      <a href={makeRoute({ page: 'tank', id: cell.place.id })}>
        <b>{cell.place.name}</b>
        {full ? <span class="label-value">{labelValue(cell, reader)}</span> : null}
        <span class="for-voice">{spokenState(cell, reader)}</span>
      </a>
    </li>
  );
};
