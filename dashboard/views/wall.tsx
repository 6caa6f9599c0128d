import { useEffect, useMemo, useState } from 'preact/hooks';
import { aliveWords } from '../parts/alive-words.js';
import { Foot } from '../parts/foot.js';
import { LineStrip } from '../parts/line-strip.js';
import { LookFirst } from '../parts/look-first.js';
import { SupplyRow } from '../parts/supply-row.js';
import { useRoom } from '../state/room.js';
import { useSteady } from '../state/steady.js';
import { SUPPLY } from '../state/strip.js';
import { shapeOf } from '../state/strip-shape.js';
import { burnInShift, wallLayout } from '../state/wall-layout.js';

/** The whole room on one screen that nobody touches: what to look at first, and every tank in its place. */
export const Wall = () => {
  const room = useRoom();
  const size = useWindowSize();
  const shapes = useSteady(() => room.strips.value.map((strip) => shapeOf(strip, room.reader.value)), [room]);
  const strips = shapes.filter(({ id }) => id !== SUPPLY);
  const supply = shapes.find(({ id }) => id === SUPPLY);
  const hasSupply = supply !== undefined;
  const layout = useMemo(
    () => wallLayout(size.width, size.height, strips.length, hasSupply),
    [size, strips.length, hasSupply],
  );
  const across = Math.max(0, ...strips.map(({ places }) => places.length));
  const shift = useSteady(() => burnInShift(room.nowMs.value), [room]);
  const loud = useSteady(() => aliveWords(room.alive.value, room.nowMs.value, room.reader.value).loud, [room]);
  return (
    <div
      class={loud ? 'wall wall-loud' : 'wall'}
      style={{ '--px': `${layout.px}px`, transform: `translate(${shift.x}px, ${shift.y}px)` }}
    >
      <LookFirst />
      <main
        class={`strips strips-${layout.density}`}
        style={{
          gridTemplateColumns: `repeat(${layout.columns}, auto)`,
          gridTemplateRows: `repeat(${layout.rows}, 1fr)${hasSupply ? ' auto' : ''}`,
        }}
      >
        {strips.map((strip) => (
          <LineStrip key={strip.id} shape={strip} layout={layout} across={across} />
        ))}
        {supply === undefined ? null : <SupplyRow shape={supply} layout={layout} />}
        {loud ? <div class="gone" aria-hidden="true" /> : null}
      </main>
      <Foot />
    </div>
  );
};

const useWindowSize = () => {
  const [size, setSize] = useState({ width: innerWidth, height: innerHeight });
  useEffect(() => {
    const measure = (): void => setSize({ width: innerWidth, height: innerHeight });
    addEventListener('resize', measure);
    return () => removeEventListener('resize', measure);
  }, []);
  return size;
};
