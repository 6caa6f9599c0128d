import { useRef } from 'preact/hooks';
import { plannedC, type SpawningRun } from '../../rules/log/run.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { clockTicks, clockWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { lineWords } from '../../rules/words/number.js';
import { useElementWidth } from './element-width.js';

const HEIGHT = 260;
const LEFT = 70;
const FOOT = 30;

type Point = { readonly atMs: number; readonly value: number };

type TraceProps = {
  readonly run: SpawningRun;
  readonly readings: ChannelReadings | undefined;
  readonly toMs: number;
  readonly reader: Reader;
};

/** Measured against plan: the tray's temperature, the step that each phase wants, and the ceiling over both. */
export const RunTrace = ({ run, readings, toMs, reader }: TraceProps) => {
  const holder = useRef<HTMLElement>(null);
  const width = useElementWidth(holder);
  const { plan, startedMs: fromMs } = run;
  const lowC = Math.min(plan.coolC, plan.ambientC) - 2;
  const highC = plan.ceilingC + 2;
  const x = (atMs: number): number => LEFT + ((width - LEFT) * (atMs - fromMs)) / Math.max(1, toMs - fromMs);
  const y = (temperatureC: number): number =>
    (HEIGHT - FOOT) * (1 - (Math.min(highC, Math.max(lowC, temperatureC)) - lowC) / (highC - lowC));
  const lines = [plan.ceilingC, plan.ambientC + plan.riseC, plan.ambientC, plan.coolC];
  return (
    <figure class="run-trace" ref={holder}>
      <svg
        viewBox={`0 0 ${Math.max(1, width)} ${HEIGHT}`}
        role="img"
        aria-label="Temperature of the tray beside its plan"
      >
        {lines.map((line, n) => (
          <g key={`${n}`}>
            <line class={n === 0 ? 'reading-ceiling' : 'run-line'} x1={LEFT} x2={width} y1={y(line)} y2={y(line)} />
            <text class="stay-day" x="0" y={y(line) + 6}>
              {lineWords('temperature', line, reader)}
            </text>
          </g>
        ))}
        {run.phases.map((phase) => (
          <line
            key={phase.fromMs}
            class="run-plan"
            x1={x(phase.fromMs)}
            x2={x(Math.min(phase.toMs ?? toMs, phase.fromMs + planMs(run, phase.phase)))}
            y1={y(plannedC(run, phase.phase))}
            y2={y(plannedC(run, phase.phase))}
          />
        ))}
        {piecesOf(readings).map((piece) => (
          <polyline
            key={piece[0]?.atMs ?? 0}
            class="run-measured"
            points={piece.map(({ atMs, value }) => `${x(atMs).toFixed(1)},${y(value).toFixed(1)}`).join(' ')}
          />
        ))}
        {clockTicks(fromMs, toMs, 1, reader.zone).map((atMs) => (
          <text key={atMs} class="stay-day" x={x(atMs)} y={HEIGHT - 6} text-anchor="middle">
            {clockWords(atMs, reader)}
          </text>
        ))}
      </svg>
      <figcaption>thick: measured; pale: what the phase wants; upper line: the ceiling</figcaption>
    </figure>
  );
};

const planMs = ({ plan }: SpawningRun, phase: string): number =>
  phase === 'ambient' ? Number.POSITIVE_INFINITY : plan.holdMin * 60_000;

/** A gap breaks the line instead of lying. */
const piecesOf = (readings: ChannelReadings | undefined): readonly (readonly Point[])[] => {
  const pieces: Point[][] = [[]];
  readings?.atMs.forEach((atMs, n) => {
    const value = readings.mean[n];
    if (value === null || value === undefined) pieces.push([]);
    else pieces.at(-1)?.push({ atMs, value });
  });
  return pieces.filter((piece) => piece.length > 1);
};
