import { figure } from './figure.js';
import type { Figure } from './profile.js';

/**
 * How long animals stand a loss of oxygen or of water: hours until half are dead.
 * For setting how fast somebody must be there. The delay of an alarm must be far shorter: it is there to find the
 * failed air or flow, not to wait for deaths.
 */
export const OXYGEN_LOSS_HORIZONS = {
  earlyLarva82UmAnoxiaH: figure(11, 'confirmed', { source: 'WIDDOWS89' }),
  pediveliger312UmAnoxiaH: figure(51, 'confirmed', { source: 'WIDDOWS89' }),
  juvenileAnoxiaH: figure(150, 'confirmed', { source: 'WIDDOWS89' }),
  newlySetAnoxiaH: figure(84, 'confirmed', { source: 'BAKER92' }),
  newlySetHypoxiaH: figure(131, 'confirmed', { source: 'BAKER92' }),
  adultManilaClamAtHalfMgLH: figure(422, 'confirmed', { source: 'LI19' }),
  adultClamInAirAt20CH: figure(72, 'confirmed', { source: 'SOBRAL97', note: 'Ruditapes decussatus, drained tanks' }),
  adultClamInAirAt28CH: figure(48, 'confirmed', { source: 'SOBRAL97', note: 'Ruditapes decussatus, drained tanks' }),
  adultClamInAirAt35CH: figure(10, 'confirmed', { source: 'SOBRAL97', note: 'Ruditapes decussatus, drained tanks' }),
} as const satisfies Readonly<Record<string, Figure>>;

/** What one degree of warming does to them: median over bottom-living animals. */
export const OXYGEN_LOSS_PER_DEGREE = {
  survivalTimeH: figure(-3.95, 'confirmed', { source: 'VSD11' }),
  lethalThresholdMgL: figure(0.07, 'confirmed', { source: 'VSD11' }),
} as const satisfies Readonly<Record<string, Figure>>;
