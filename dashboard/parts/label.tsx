import type { CellSpan } from '../chart/scene.js';
import { isLoud } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { useSteady } from '../state/steady.js';
import type { StripShape } from '../state/strip-shape.js';
import { labelValue, spokenState } from './label-words.js';
import { textWidth } from './text-width.js';

type LabelsProps = {
  readonly places: StripShape['places'];
  readonly spans: readonly CellSpan[];
  readonly full: boolean;
  /** One pixel of a 1920 by 1080 wall. */
  readonly px: number;
  readonly height: number;
};

/** Under each cell its tank: name and value where there is room, else the name, larger where somebody should look. */
export const Labels = ({ places, spans, full, px, height }: LabelsProps) => (
  <ol class={full ? 'labels' : 'labels labels-close'} style={{ height: `${height}px` }}>
    {places.map(({ id, name }, index) => {
      const span = spans[index];
      return span === undefined ? null : <Label key={id} id={id} name={name} span={span} full={full} px={px} />;
    })}
  </ol>
);

/** A name in a narrow cell is written as large as it fits, so that it never runs into its neighbour's. */
const LARGEST = { calm: 30, wanted: 40 };
const SMALLEST = 20;
const fittingPx = (name: string, manner: string, { width }: CellSpan, px: number): number => {
  const largest = manner === 'calm' ? LARGEST.calm : LARGEST.wanted;
  return Math.max(SMALLEST * px, Math.min(largest * px, (width - 2 * px) / textWidth(name, 1)));
};

type LabelProps = { id: string; name: string; span: CellSpan; full: boolean; px: number };

const Label = ({ id, name, span, full, px }: LabelProps) => {
  const { manner, value, spoken } = useTankWords(id);
  return (
    <li class={`label label-${manner}`} style={{ left: `${span.x}px`, width: `${span.width}px` }}>
      <a href={makeRoute({ page: 'tank', id })}>
        <b style={full ? undefined : { fontSize: `${fittingPx(name, manner, span, px)}px` }}>{name}</b>
        {full ? <span class="label-value">{value}</span> : null}
        <span class="for-voice">{spoken}</span>
      </a>
    </li>
  );
};

/** What stands beside a tank; it changes only when its words do. */
export const useTankWords = (id: string) => {
  const room = useRoom();
  return useSteady(() => {
    const cell = room.cells.value.get(id);
    const reader = room.reader.value;
    if (cell === undefined) return { manner: 'calm', value: '', spoken: '' };
    const manner = cell.alarms.some(isLoud) ? 'loud' : cell.wanted ? 'wanted' : 'calm';
    return { manner, value: labelValue(cell, reader), spoken: spokenState(cell, reader) };
  }, [id, room]);
};
