import type { SpeciesGroupId } from '../../rules/stage/profiles.js';
import type { Stage } from '../../rules/stage/stage.js';
import type { Standing } from '../../rules/stage/standing.js';

/**
 * What the animals stand, for judging a simulated night afterwards. None of these is a line that a rule uses: rules warn
 * at limits and ceilings, this says when animals are hurt. Each figure with its standing; `placeholder` is a figure of
 * our own, in order that there is one, and only the shape of what follows from it should be trusted.
 */
export type Stood = { readonly value: number; readonly standing: Standing; readonly source?: string };

const stood = (value: number, standing: Standing, source?: string): Stood =>
  source === undefined ? { value, standing } : { value, standing, source };

/** Share of the dose at which half would be dead that already counts as harm. */
export const HARM_SHARE = stood(0.25, 'placeholder');

/** Ten times shorter survival per so many °C (thermal-death-time line, Rezende and others 2014: form confirmed). */
export const HEAT_Z_C = stood(3, 'placeholder');

/** °C at which half are dead after one hour. */
export const HEAT_ONE_HOUR_C: { readonly [group in SpeciesGroupId]: Stood } = {
  'warm-temperate-burrowing-clam': stood(40, 'analogy'),
  'hard-clam': stood(42, 'derived', 'larvae stood 40-41 °C for over 2 h with little death (WRIGHT83)'),
  'manila-clam': stood(40.2, 'derived', 'all dead within 10 days at 34 °C (ISONO98), half after five'),
  'pacific-oyster': stood(41, 'placeholder'),
  'eastern-oyster': stood(42, 'derived', 'larvae stood 40-41 °C for over 2 h with little death (WRIGHT83)'),
  'bay-scallop': stood(38, 'placeholder', 'between clams and surfclam (WRIGHT83, order only)'),
  geoduck: stood(31, 'placeholder'),
  'atlantic-surfclam': stood(
    34,
    'placeholder',
    'the most sensitive of five (WRIGHT83), seed lost after 27 °C (ACQUA19)',
  ),
};

/** Embryos in cleavage stand less heat than larvae, by so many °C. */
export const EMBRYO_LESS_C = stood(6, 'placeholder', 'direction from WRIGHT83');

/** Embryos are spoiled when they have been so far from the water they were spawned into for so long, either way. */
export const EMBRYO_SHIFT_C = stood(5, 'placeholder', 'cold as well as heat, direction from WRIGHT83 and WRIGHT84');
export const EMBRYO_SHIFT_H = stood(1, 'placeholder');

/** Broodstock warmed so fast spill their gametes: a run works with a rise of 5 to 10 °C (common practice). */
export const SPAWNING_RISE_C: { readonly [stage: string]: Stood } = {
  conditioning: stood(5, 'practice'),
  ripe: stood(4, 'placeholder'),
};
export const SPAWNING_RISE_H = stood(0.5, 'practice', 'a warm phase of about half an hour (FAO471, memory)');
/** What they are used to follows the water with this time constant, hours. */
export const ACCUSTOMED_H = stood(24, 'placeholder');

/** Hours without any oxygen until half are dead, and mg/L from which down it counts. */
export const ANOXIA_HALF_DEAD_H: { readonly [stage: string]: Stood } = {
  embryo: stood(11, 'analogy', 'larvae of 82 µm (WIDDOWS89)'),
  larva: stood(11, 'confirmed', 'larvae of 82 µm (WIDDOWS89)'),
  setting: stood(51, 'confirmed', 'pediveligers of 312 µm (WIDDOWS89)'),
  'post-set': stood(84, 'confirmed', 'newly set oysters (BAKER92)'),
  // A loaded bed of seed in its own water: gone in 1-4 h in summer. Their own waste is in it, not oxygen alone.
  nursery: stood(10, 'practice', 'a quarter of it is the middle of 1-4 h'),
  conditioning: stood(422, 'confirmed', 'Manila clam at 0.5 mg/L (LI19)'),
  ripe: stood(422, 'analogy', 'LI19'),
  spawning: stood(422, 'analogy', 'LI19'),
};
export const OXYGEN_COUNTS_BELOW_MG_L: { readonly [stage: string]: Stood } = {
  embryo: stood(2.4, 'memory', 'poor growth of hard clam at 2.4 mg/L (MORRISON71)'),
  larva: stood(2.4, 'memory', 'MORRISON71'),
  setting: stood(2.4, 'analogy', 'MORRISON71'),
  'post-set': stood(2, 'confirmed', 'half the species hurt above it (VSD08)'),
  nursery: stood(2, 'confirmed', 'VSD08'),
};
export const ADULT_OXYGEN_COUNTS_BELOW_MG_L = stood(1, 'placeholder');
/** Survival without oxygen halves for every so many °C above 20. */
export const OXYGEN_HALVES_PER_C = stood(8, 'placeholder', 'shorter in warmth, about 4 h per °C (VSD11)');

/** Practical salinity at which half the swimming or newly set animals are dead after a day; adults shut for days. */
export const FRESH_ONE_DAY: { readonly [group in SpeciesGroupId]: Stood } = {
  'warm-temperate-burrowing-clam': stood(15, 'placeholder'),
  'hard-clam': stood(12, 'placeholder'),
  'manila-clam': stood(10, 'placeholder'),
  'pacific-oyster': stood(10, 'placeholder'),
  'eastern-oyster': stood(5, 'placeholder'),
  'bay-scallop': stood(16, 'placeholder'),
  geoduck: stood(17, 'placeholder'),
  'atlantic-surfclam': stood(16, 'placeholder'),
};
/** Ten times shorter survival per so much salinity below it. */
export const FRESH_Z = stood(5, 'placeholder');

/** Share of the water that has run away with the animals swimming in it. */
export const LOST_WITH_WATER = stood(0.25, 'placeholder');
/** Below this share of its water a tank's settled animals lie in air. */
export const DRY_SHARE = stood(0.15, 'placeholder');
/** Hours in air until half are dead, at 20 °C. */
export const DRY_HALF_DEAD_H: { readonly [stage: string]: Stood } = {
  'post-set': stood(8, 'placeholder'),
  nursery: stood(24, 'placeholder'),
  conditioning: stood(72, 'confirmed', 'Ruditapes decussatus (SOBRAL97)'),
  ripe: stood(72, 'analogy', 'SOBRAL97'),
  spawning: stood(72, 'analogy', 'SOBRAL97'),
};
/** A heater in air that goes on heating melts its casing and may burn the house, after so many minutes. */
export const HEATER_DRY_MIN = stood(20, 'placeholder', 'an incident of one night is on record (NB-OYSTER17)');

export const SWIMMING: ReadonlySet<Stage> = new Set<Stage>(['embryo', 'larva', 'setting']);
