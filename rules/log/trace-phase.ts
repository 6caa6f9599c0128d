import type { Phase } from './kinds/run.js';

/** A tray's temperature over a run, oldest first; null where it was out of the water or not heard. */
export type TrayTrace = readonly { readonly atMs: number; readonly temperatureC: number | null }[];
export type SeenPhase = { readonly phase: Phase; readonly fromMs: number; readonly reachedC: number };

type Plan = { readonly ambientC: number; readonly coolC: number; readonly riseC: number };

/** A phase has come when the tray has gone this share of the way from the middle to what the plan wants of it. */
const SHARE = 0.5;
/** ... and stayed there for so long: a bucket of warm water is not a phase. Common practice, no source. */
const STAY_MS = 2 * 60_000;

/**
 * Phases as the trace shows them: warm above half the way from ambient to the peak, cool below half the way from ambient
 * to the cool water, each for two minutes. In between the phase before goes on. The first is ambient where it began so.
 */
export const phasesInTrace = (trace: TrayTrace, { ambientC, coolC, riseC }: Plan): readonly SeenPhase[] => {
  const warmC = ambientC + SHARE * riseC;
  const coldC = ambientC - SHARE * (ambientC - coolC);
  const phases: SeenPhase[] = [];
  let waiting: { readonly phase: Phase; readonly fromMs: number } | undefined;
  for (const { atMs, temperatureC } of trace) {
    if (temperatureC === null) continue;
    const seen = temperatureC >= warmC ? 'warm' : temperatureC <= coldC ? 'cool' : undefined;
    const present = phases.at(-1);
    if (present === undefined && seen === undefined)
      phases.push({ phase: 'ambient', fromMs: atMs, reachedC: temperatureC });
    if (seen === undefined || seen === present?.phase) {
      waiting = undefined;
      if (present !== undefined) phases[phases.length - 1] = reached(present, temperatureC);
      continue;
    }
    waiting = waiting?.phase === seen ? waiting : { phase: seen, fromMs: atMs };
    if (atMs - waiting.fromMs < STAY_MS) continue;
    phases.push({ ...waiting, reachedC: temperatureC });
    waiting = undefined;
  }
  return phases;
};

/** The furthest that the water came in this phase. */
const reached = (phase: SeenPhase, temperatureC: number): SeenPhase => {
  if (phase.phase === 'ambient') return phase;
  const pick = phase.phase === 'warm' ? Math.max : Math.min;
  return { ...phase, reachedC: pick(phase.reachedC, temperatureC) };
};
