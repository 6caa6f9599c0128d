import { FLAG, type Flag } from './flag.js';

/** Practical salinities, and times in ms. Not usable in fresh or brackish water below `waterMin`. */
export type WaterSettings = {
  readonly waterMin: number;
  readonly airMax: number;
  readonly confirmMs: number;
  readonly releaseFraction: number;
  readonly releaseMs: number;
};

/** Common practice, no source; to be set by the hatchery. */
export const defaultWaterSettings: WaterSettings = {
  waterMin: 10,
  airMax: 2,
  confirmMs: 10_000,
  releaseFraction: 0.8,
  releaseMs: 60_000,
};

/** Unknown until the probe has once been seen in water of at least `waterMin`. */
export type WaterState = 'wet' | 'dry' | 'unknown';

export type WaterMemory = {
  readonly state: WaterState;
  /** Salinity of the last reading in water, before the probe came out. */
  readonly lastWet?: number | undefined;
  /** Since when the readings have spoken for the other state, UTC ms. */
  readonly turningSinceMs?: number | undefined;
  readonly lastMs?: number | undefined;
};

export const freshWaterMemory: WaterMemory = { state: 'unknown' };

export type WaterStep = {
  readonly memory: WaterMemory;
  readonly state: WaterState;
  /** Only on a change: the time of the first reading that spoke for the new state, before the confirming one. */
  readonly changedAtMs?: number;
};

/**
 * One salinity reading further: dry after `confirmMs` below `airMax`, wet again after `releaseMs` at or above
 * `releaseFraction` of the last wet salinity, and of `waterMin`, so that a splash on the way out cannot lower the bar.
 * The tank's multi-variate test: conductivity falls to nothing in air, which no open tank does in seconds. A stuck
 * fresh-water valve looks the same; so this alone silences nothing. Common practice, no source.
 */
export const stepWater = (
  memory: WaterMemory,
  { atMs, salinity }: { readonly atMs: number; readonly salinity: number },
  settings: WaterSettings,
): WaterStep => {
  const isOlder = memory.lastMs !== undefined && atMs < memory.lastMs;
  if (!Number.isFinite(salinity) || isOlder) return { memory, state: memory.state };
  if (memory.state === 'dry') return release(memory, atMs, salinity, settings);
  if (salinity >= settings.waterMin) return wet(memory, atMs, salinity);
  if (memory.state === 'unknown') return { memory: { ...memory, lastMs: atMs }, state: 'unknown' };
  return leave(memory, atMs, salinity, settings);
};

/** The multi-variate flag for every channel of the probe head. Dry is suspect, never fail. */
export const waterFlag: Readonly<Record<WaterState, Flag>> = {
  wet: FLAG.pass,
  dry: FLAG.suspect,
  unknown: FLAG.notEvaluated,
};

const wet = (memory: WaterMemory, atMs: number, salinity: number): WaterStep => ({
  memory: { state: 'wet', lastWet: salinity, lastMs: atMs },
  state: 'wet',
  ...(memory.state === 'unknown' ? { changedAtMs: atMs } : {}),
});

const leave = (memory: WaterMemory, atMs: number, salinity: number, settings: WaterSettings): WaterStep => {
  const { lastWet } = memory;
  if (salinity >= settings.airMax) return { memory: { state: 'wet', lastWet, lastMs: atMs }, state: 'wet' };
  const sinceMs = memory.turningSinceMs ?? atMs;
  if (atMs - sinceMs < settings.confirmMs)
    return { memory: { state: 'wet', lastWet, turningSinceMs: sinceMs, lastMs: atMs }, state: 'wet' };
  return { memory: { state: 'dry', lastWet, lastMs: atMs }, state: 'dry', changedAtMs: sinceMs };
};

const release = (memory: WaterMemory, atMs: number, salinity: number, settings: WaterSettings): WaterStep => {
  const { lastWet } = memory;
  const bar = Math.max(settings.waterMin, settings.releaseFraction * (lastWet ?? settings.waterMin));
  if (salinity < bar) return { memory: { state: 'dry', lastWet, lastMs: atMs }, state: 'dry' };
  const sinceMs = memory.turningSinceMs ?? atMs;
  if (atMs - sinceMs < settings.releaseMs)
    return { memory: { state: 'dry', lastWet, turningSinceMs: sinceMs, lastMs: atMs }, state: 'dry' };
  return { memory: { state: 'wet', lastWet: salinity, lastMs: atMs }, state: 'wet', changedAtMs: sinceMs };
};
