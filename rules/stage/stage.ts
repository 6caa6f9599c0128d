/** What a tank holds, in the order of the work. `empty` is a stage too: nothing in it is watched for animals. */
export const STAGES = [
  'quarantine',
  'cold-hold',
  'conditioning',
  'ripe',
  'spawning',
  'embryo',
  'larva',
  'setting',
  'post-set',
  'nursery',
  'empty',
] as const;
export type Stage = (typeof STAGES)[number];

export const isStage = (text: string): text is Stage => STAGES.some((stage) => stage === text);

/** The stages that have figures of their own. */
export const PROFILED_STAGES = [
  'conditioning',
  'spawning',
  'embryo',
  'larva',
  'setting',
  'post-set',
  'nursery',
] as const satisfies readonly Stage[];
export type ProfiledStage = (typeof PROFILED_STAGES)[number];

export const isProfiledStage = (stage: Stage): stage is ProfiledStage =>
  PROFILED_STAGES.some((profiled) => profiled === stage);

/**
 * The stage whose figures stand in for one that has none. Quarantine and cold hold keep the same adults in the same
 * water, but not at the conditioning temperature: there the temperature is unknown, and the hatchery sets it.
 */
export const STAND_IN: {
  readonly [stage in Exclude<Stage, ProfiledStage | 'empty'>]: StandIn;
} = {
  quarantine: { from: 'conditioning', temperature: 'unknown' },
  'cold-hold': { from: 'conditioning', temperature: 'unknown' },
  ripe: { from: 'conditioning', temperature: 'same' },
};

export type StandIn = {
  readonly from: ProfiledStage;
  readonly temperature: 'same' | 'unknown';
};
