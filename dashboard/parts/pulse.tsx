import { useId } from 'preact/hooks';
import { PULSE_LENGTH, useRoom } from '../state/room.js';

const WIDTH = 720;
const HEIGHT = 60;
/** The newest bars stand in full ink: the eye sees them arrive. */
const NEWEST = 4;

/** Readings as they land, the newest at the right. It stands still when nothing lands: that is what it is for. */
export const Pulse = () => {
  const { pulse } = useRoom();
  const fade = useId();
  const beats = pulse.value;
  const most = Math.max(8, ...beats);
  const bar = (readings: number, index: number): string => {
    const x = WIDTH - (beats.length - index - 0.5) * (WIDTH / PULSE_LENGTH);
    const half = 2 + (readings / most) * (HEIGHT / 2 - 4);
    return `M${x.toFixed(1)} ${(HEIGHT / 2 - half).toFixed(1)}V${(HEIGHT / 2 + half).toFixed(1)}`;
  };
  const bars = beats.map(bar);
  return (
    <svg class="pulse" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
      <defs>
        <linearGradient id={fade} gradientUnits="userSpaceOnUse" x1="0" x2={WIDTH} y1="0" y2="0">
          <stop offset="0" stop-color="currentColor" stop-opacity="0" />
          <stop offset=".6" stop-color="currentColor" />
        </linearGradient>
      </defs>
      <path class="pulse-old" d={bars.slice(0, -NEWEST).join('')} stroke={`url(#${fade})`} />
      <path class="pulse-new" d={bars.slice(-NEWEST).join('')} />
    </svg>
  );
};
