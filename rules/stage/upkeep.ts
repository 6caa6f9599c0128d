import type { Place } from '../place.js';
import type { Task } from '../work.js';
import { isSpeciesGroupId, profileFor } from './profiles.js';

/**
 * Hours between two times of work that comes back: as the hatchery set it, else as the stage says; undefined where
 * nothing is set. A spawning run changes its water by its own phases: there the rhythm of the stage is no upkeep.
 */
export const upkeepEveryH = (
  { upkeepH, speciesGroup, stage }: Pick<Place, 'upkeepH' | 'speciesGroup' | 'stage'>,
  task: Task,
): number | undefined => {
  const own = upkeepH?.[task];
  if (own !== undefined) return own > 0 ? own : undefined;
  if (speciesGroup === undefined || stage === undefined || !isSpeciesGroupId(speciesGroup)) return undefined;
  return task === 'water-change' && stage !== 'spawning'
    ? profileFor(speciesGroup, stage)?.waterChange.everyH
    : undefined;
};
