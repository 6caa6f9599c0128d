import { FLAG, type Flag, isPresent } from './flag.js';

/** Sister probes in one water: apart by more than `tolerance` (unit of the values) for `holdMs` is suspect. */
export type NeighbourSettings = { readonly tolerance: number; readonly holdMs: number };

/** Since when the two have been apart without a break, UTC ms. */
export type NeighbourMemory = { readonly apartSinceMs?: number | undefined };
export const freshNeighbourMemory: NeighbourMemory = {};

export type SisterReadings = {
  readonly atMs: number;
  readonly value?: number | undefined;
  readonly sister?: number | undefined;
};

/**
 * One comparison further. Adapted: by the difference over time, where the reference compares rates; without the sister
 * it is not evaluated and the hold starts again. The flag belongs on both probes: nobody can say which one is wrong.
 * Common practice, no source.
 */
export const stepNeighbour = (
  memory: NeighbourMemory,
  { atMs, value, sister }: SisterReadings,
  { tolerance, holdMs }: NeighbourSettings,
): { readonly memory: NeighbourMemory; readonly flag: Flag } => {
  if (!isPresent(value)) return { memory: freshNeighbourMemory, flag: FLAG.missing };
  if (!isPresent(sister)) return { memory: freshNeighbourMemory, flag: FLAG.notEvaluated };
  if (Math.abs(value - sister) <= tolerance) return { memory: freshNeighbourMemory, flag: FLAG.pass };
  const apartSinceMs = memory.apartSinceMs ?? atMs;
  return { memory: { apartSinceMs }, flag: atMs - apartSinceMs >= holdMs ? FLAG.suspect : FLAG.pass };
};
