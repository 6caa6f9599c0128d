import { UNKNOWN } from './figure.js';
import type { Band, Span, SpeciesGroup, StageProfile } from './profile.js';
import { ATLANTIC_SURFCLAM } from './profiles/atlantic-surfclam.js';
import { BAY_SCALLOP } from './profiles/bay-scallop.js';
import { EASTERN_OYSTER } from './profiles/eastern-oyster.js';
import { GEODUCK } from './profiles/geoduck.js';
import { HARD_CLAM } from './profiles/hard-clam.js';
import { MANILA_CLAM } from './profiles/manila-clam.js';
import { PACIFIC_OYSTER } from './profiles/pacific-oyster.js';
import { WARM_TEMPERATE_BURROWING_CLAM } from './profiles/warm-temperate-burrowing-clam.js';
import { isProfiledStage, STAND_IN, type Stage, type StandIn } from './stage.js';
import { isConfirmed, type Standing } from './standing.js';

const GROUPS = [
  WARM_TEMPERATE_BURROWING_CLAM,
  HARD_CLAM,
  MANILA_CLAM,
  PACIFIC_OYSTER,
  EASTERN_OYSTER,
  BAY_SCALLOP,
  GEODUCK,
  ATLANTIC_SURFCLAM,
] as const;

export type SpeciesGroupId = (typeof GROUPS)[number]['id'];

/** The built-in groups, the general warm-temperate clam first. */
export const SPECIES_GROUPS: readonly SpeciesGroup<SpeciesGroupId>[] = GROUPS;

export const isSpeciesGroupId = (text: string): text is SpeciesGroupId => GROUPS.some(({ id }) => id === text);

/** The quantities that a profile can put a band on. */
export const BAND_QUANTITIES = ['temperature', 'salinity', 'oxygen-saturation', 'oxygen-mg-l', 'ph'] as const;
export type BandQuantity = (typeof BAND_QUANTITIES)[number];

/** All figures of a group at a stage; none for an empty tank. A stage without figures of its own borrows them. */
export const profileFor = (groupId: SpeciesGroupId, stage: Stage): StageProfile | undefined => {
  const group = SPECIES_GROUPS.find(({ id }) => id === groupId);
  if (group === undefined || stage === 'empty') return undefined;
  return isProfiledStage(stage) ? group.stages[stage] : borrowed(group, STAND_IN[stage]);
};

/** Target, limit and ceiling in °C, practical salinity, % of air saturation, mg/L or pH; none where none is known. */
export const bandFor = (groupId: SpeciesGroupId, stage: Stage, quantity: BandQuantity): Band | undefined => {
  const profile = profileFor(groupId, stage);
  if (profile === undefined) return undefined;
  const bands: { readonly [quantity in BandQuantity]: Band | undefined } = {
    temperature: profile.temperatureC,
    salinity: profile.salinity,
    'oxygen-saturation': profile.oxygenSaturationPct,
    'oxygen-mg-l': profile.oxygenMgL,
    ph: profile.ph,
  };
  return bands[quantity];
};

const borrowed = (group: SpeciesGroup, { from, temperature }: StandIn): StageProfile => {
  const profile = group.stages[from];
  return {
    ...profile,
    temperatureC: temperature === 'unknown' ? UNKNOWN : byAnalogy(profile.temperatureC),
    salinity: byAnalogy(profile.salinity),
    oxygenSaturationPct: byAnalogy(profile.oxygenSaturationPct),
    oxygenMgL: byAnalogy(profile.oxygenMgL),
  };
};

const byAnalogy = ({ target, limit, ceiling }: Band): Band => ({
  target: lessSureSpan(target),
  limit: lessSureSpan(limit),
  ...(ceiling === undefined ? {} : { ceiling: { ...ceiling, standing: lessSure(ceiling.standing) } }),
});

const lessSureSpan = ({ lowStanding, highStanding, ...span }: Span): Span => ({
  ...span,
  standing: lessSure(span.standing),
  ...(lowStanding === undefined ? {} : { lowStanding: lessSure(lowStanding) }),
  ...(highStanding === undefined ? {} : { highStanding: lessSure(highStanding) }),
});

/** A figure read for one stage is not thereby confirmed for another. */
const lessSure = (standing: Standing): Standing => (isConfirmed(standing) ? 'analogy' : standing);
