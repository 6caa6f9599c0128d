import { useEffect, useState } from 'preact/hooks';
import { aliveWords } from '../parts/alive-words.js';
import { Foot } from '../parts/foot.js';
import { LineStrip } from '../parts/line-strip.js';
import { LookFirst } from '../parts/look-first.js';
import { useRoom } from '../state/room.js';
import { burnInShift, wallLayout } from '../state/wall-layout.js';

/** The whole room on one screen that nobody touches: what to look at first, and every tank in its place. */
export const Wall = () => {
  const room = useRoom();
  const size = useWindowSize();
  const strips = room.strips.value;
  const layout = wallLayout(size.width, size.height, strips.length);
  const across = Math.max(0, ...strips.map(({ cells }) => cells.length));
  const shift = burnInShift(room.nowMs.value);
  const { loud } = aliveWords(room.alive.value, room.nowMs.value, room.reader.value);
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
          gridTemplateRows: `repeat(${layout.rows}, 1fr)`,
        }}
      >
        {strips.map((strip) => (
          <LineStrip key={strip.id} strip={strip} layout={layout} across={across} />
        ))}
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
