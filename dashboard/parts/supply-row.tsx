import { useMemo } from 'preact/hooks';
import type { StripGeometry } from '../chart/scene.js';
import { StripDrawing } from '../chart/strip.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import type { StripShape } from '../state/strip-shape.js';
import { SUPPLY_ROW, type WallLayout } from '../state/wall-layout.js';
import { useTankWords } from './label.js';
import { Beside } from './said-words.js';

const CELL_PX = 64;
const NAME_PX = 110;
const BETWEEN_PX = 22;
const WATER_PX = 62;

/** Intake, rooms, air and power in one slim row under the lines: each a little water with its name beside it. */
export const SupplyRow = ({ shape, layout }: { readonly shape: StripShape; readonly layout: WallLayout }) => {
  const { px } = layout;
  const pitch = (CELL_PX + NAME_PX + BETWEEN_PX) * px;
  return (
    <section class="supply" style={{ height: `${SUPPLY_ROW * px}px` }} aria-label={shape.name}>
      <ol style={{ width: `${pitch * shape.places.length}px` }}>
        {shape.places.map(({ id, name }) => (
          <SupplyCell key={id} id={id} name={name} px={px} />
        ))}
      </ol>
      <Beside
        shape={{ ...shape, name: '' }}
        px={px}
        width={layout.strip.width * layout.columns - pitch * shape.places.length}
      />
    </section>
  );
};

const SupplyCell = ({ id, name, px }: { id: string; name: string; px: number }) => {
  const room = useRoom();
  const { manner, spoken } = useTankWords(id);
  const spans = useMemo(() => [{ x: 0, width: CELL_PX * px }], [px]);
  const geometry: StripGeometry = {
    width: CELL_PX * px,
    height: WATER_PX * px,
    middle: (WATER_PX * px) / 2,
    unit: 11 * px,
    radius: 8 * px,
    bedY: WATER_PX * px,
  };
  const cells = () => {
    const cell = room.cells.value.get(id);
    return cell === undefined ? [] : [cell];
  };
  return (
    <li class={`supply-cell label-${manner}`}>
      <a href={makeRoute({ page: 'tank', id })}>
        <StripDrawing
          cells={cells}
          trails={() => room.trailOf.value}
          spans={spans}
          geometry={geometry}
          light={shownLight.value}
        />
        <b>{name}</b>
        <span class="for-voice">{spoken}</span>
      </a>
    </li>
  );
};
