import { effect } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { shownLight } from '../state/light.js';
import { PULSE_LENGTH, useRoom } from '../state/room.js';
import { useElementWidth } from './element-width.js';

/** The newest bars stand in full ink: the eye sees them arrive. */
const NEWEST = 4;
/** A narrow pulse shows fewer beats, not thinner ones. */
const LEAST_STEP_PX = 5;

/** Readings as they land, the newest at the right. It stands still when nothing lands: that is what it is for. */
export const Pulse = () => {
  const { pulse } = useRoom();
  const holder = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const width = useElementWidth(holder);
  const light = shownLight.value;
  useEffect(() => {
    const element = canvas.current;
    const height = holder.current?.clientHeight ?? 0;
    if (element === null || width === 0) return;
    element.width = Math.round(width * devicePixelRatio);
    element.height = Math.round(height * devicePixelRatio);
    const style = getComputedStyle(element);
    const colours = { old: style.getPropertyValue('--muted'), fresh: style.getPropertyValue('--ink') };
    return effect(() => drawPulse(element, pulse.value, colours));
  }, [width, light, pulse]);
  return (
    <div class="pulse" ref={holder} aria-hidden="true">
      <canvas ref={canvas} />
    </div>
  );
};

const drawPulse = (
  element: HTMLCanvasElement,
  beats: readonly number[],
  { old, fresh }: { readonly old: string; readonly fresh: string },
): void => {
  const paper = element.getContext('2d');
  if (paper === null) return;
  const { width, height } = element;
  const length = Math.min(PULSE_LENGTH, Math.floor(width / (LEAST_STEP_PX * devicePixelRatio)));
  const step = width / length;
  const most = Math.max(8, ...beats);
  paper.clearRect(0, 0, width, height);
  paper.lineWidth = Math.max(1, step * 0.42);
  const shown = beats.slice(-length);
  for (const [index, readings] of shown.entries()) {
    const age = shown.length - 1 - index;
    const half = height * (0.05 + 0.43 * (readings / most));
    paper.strokeStyle = age < NEWEST ? fresh : old;
    paper.globalAlpha = age < NEWEST ? 1 : Math.max(0, 1 - age / length) ** 1.4;
    paper.beginPath();
    paper.moveTo(width - (age + 0.5) * step, height / 2 - half);
    paper.lineTo(width - (age + 0.5) * step, height / 2 + half);
    paper.stroke();
  }
};
