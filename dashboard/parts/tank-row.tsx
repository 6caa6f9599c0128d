import { useMemo, useRef } from 'preact/hooks';
import type { StripGeometry } from '../chart/scene.js';
import { StripDrawing } from '../chart/strip.js';
import { shownLight } from '../state/light.js';
import { isLoud } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { saidOf } from '../state/said.js';
import type { Cell } from '../state/strip.js';
import { useElementWidth } from './element-width.js';
import { labelValue, spokenState } from './label-words.js';
import { MarkPicture } from './mark.js';

const HEIGHT = 72;
const UNIT = 11;
const MIDDLE = 34;

/** A tank of the phone's list: its name, its piece of the waterline, its temperature, and what is to be said of it. */
export const TankRow = ({ cell }: { readonly cell: Cell }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const holder = useRef<HTMLDivElement>(null);
  const width = useElementWidth(holder);
  const geometry: StripGeometry = useMemo(
    () => ({ width, height: HEIGHT, middle: MIDDLE, unit: UNIT, radius: 5.5, bedY: MIDDLE + 2 * UNIT + 6 }),
    [width],
  );
  const columns = cell.channels.flatMap((channel) => (channel === undefined ? [] : [channel.quantity]));
  const said = saidOf({ id: '', name: '', columns, cells: [cell] }, room.nowMs.value, reader);
  const trails = room.trails.value;
  const manner = cell.alarms.some(isLoud) ? ' tank-row-loud' : cell.wanted ? ' tank-row-wanted' : '';
  return (
    <li class={`tank-row${manner}`}>
      <a href={makeRoute({ page: 'tank', id: cell.place.id })}>
        <b>{cell.place.name}</b>
        <div class="tank-row-water" ref={holder}>
          {width === 0 ? null : (
            <StripDrawing
              cells={[cell]}
              spans={[{ x: 0, width }]}
              geometry={geometry}
              trailOf={(id) => trails?.trails[id]}
              light={shownLight.value}
            />
          )}
        </div>
        <span class="tank-row-value">{labelValue(cell, reader)}</span>
        <span class="for-voice">{spokenState(cell, reader)}</span>
        {said.length === 0 ? null : (
          <span class="tank-row-said">
            {said.map((one) => (
              <span key={one.phrase.long} class={`said-${one.tone}`}>
                <MarkPicture mark={one.mark} tone={one.tone} /> {one.phrase.long}
              </span>
            ))}
          </span>
        )}
      </a>
    </li>
  );
};
