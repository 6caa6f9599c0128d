import { useMemo, useRef } from 'preact/hooks';
import type { StripGeometry } from '../chart/scene.js';
import { StripDrawing } from '../chart/strip.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { saidOf } from '../state/said.js';
import { useSteady } from '../state/steady.js';
import { useElementWidth } from './element-width.js';
import { useTankWords } from './label.js';
import { MarkPicture } from './mark.js';
import { textWidth } from './text-width.js';

/** The name's column, and what it is written in where it fits. */
const NAME_WIDTH_PX = 60;
const NAME_PX = 22;
const HEIGHT = 72;
const UNIT = 11;
const MIDDLE = 34;

/** A tank of the phone's list: its name, its piece of the waterline, its temperature, and what is to be said of it. */
export const TankRow = ({ id, name }: { readonly id: string; readonly name: string }) => {
  const { manner, value, spoken } = useTankWords(id);
  return (
    <li class={`tank-row tank-row-${manner}`}>
      <a href={makeRoute({ page: 'tank', id })}>
        <b style={{ fontSize: `${Math.min(NAME_PX, NAME_WIDTH_PX / textWidth(name, 1))}px` }}>{name}</b>
        <Water id={id} />
        <span class="tank-row-value">{value}</span>
        <span class="for-voice">{spoken}</span>
        <SaidOfTank id={id} />
      </a>
    </li>
  );
};

const Water = ({ id }: { id: string }) => {
  const room = useRoom();
  const holder = useRef<HTMLDivElement>(null);
  const width = useElementWidth(holder);
  const spans = useMemo(() => [{ x: 0, width }], [width]);
  const geometry: StripGeometry = {
    width,
    height: HEIGHT,
    middle: MIDDLE,
    unit: UNIT,
    radius: 5.5,
    bedY: MIDDLE + 2 * UNIT + 6,
  };
  const cells = () => {
    const cell = room.cells.value.get(id);
    return cell === undefined ? [] : [cell];
  };
  return (
    <div class="tank-row-water" ref={holder}>
      {width === 0 ? null : (
        <StripDrawing
          cells={cells}
          trails={() => room.trailOf.value}
          spans={spans}
          geometry={geometry}
          light={shownLight.value}
        />
      )}
    </div>
  );
};

const SaidOfTank = ({ id }: { id: string }) => {
  const room = useRoom();
  const said = useSteady(() => {
    const cell = room.cells.value.get(id);
    if (cell === undefined) return [];
    const columns = cell.channels.flatMap((channel) => (channel === undefined ? [] : [channel.quantity]));
    return saidOf({ id: '', name: '', columns, cells: [cell] }, room.nowMs.value, room.reader.value);
  }, [id, room]);
  if (said.length === 0) return null;
  return (
    <span class="tank-row-said">
      {said.map((one) => (
        <span key={one.phrase.long} class={`said-${one.tone}`}>
          <MarkPicture mark={one.mark} tone={one.tone} /> {one.phrase.long}
        </span>
      ))}
    </span>
  );
};
