import type { Place, Probe, Quantity } from '../probe.js';
import type { Tank } from '../tank.js';

/** Ordinary values, so that a tank or a probe of the invented hatchery says only what is its own. */

type OwnOfTank = Pick<Tank, 'id' | 'line' | 'room' | 'airMain' | 'stage' | 'volumeL' | 'depthM' | 'animals'>;

export const tank = (own: OwnOfTank & Partial<Tank>): Tank => ({
  speciesGroup: 'warm-temperate-burrowing-clam',
  regime: 'static',
  bed: { kind: 'none' },
  flowLMin: 0,
  fillLMin: own.volumeL / 15,
  drainLMin: own.volumeL / 8,
  bubblesPerH: 3,
  surfaceMPerH: 0.03,
  wallWPerM2K: 5,
  openShare: 0.6,
  algaeMgLH: 0,
  ...own,
});

type Make = { readonly [quantity in Quantity]: Omit<Probe, 'place' | 'quantity' | 'heightM'> };

const plain = { offset: 0, driftPerDay: 0 };

/** Cheap but sound probes of the trade; lags, noise and drift are common practice, no source. */
const MAKE: Make = {
  temperature: { ...plain, lagS: 20, noise: 0.02, resolution: 0.01 },
  conductivity: { ...plain, lagS: 8, noise: 0.04, resolution: 0.01, driftPerDay: -0.015 },
  salinity: { ...plain, lagS: 8, noise: 0.03, resolution: 0.01, driftPerDay: -0.01 },
  'oxygen-mg-l': { ...plain, lagS: 40, noise: 0.03, resolution: 0.01, driftPerDay: -0.01 },
  'oxygen-saturation': { ...plain, lagS: 40, noise: 0.35, resolution: 0.1, driftPerDay: -0.1 },
  level: { ...plain, lagS: 5, noise: 0.002, resolution: 0.001 },
  flow: { ...plain, lagS: 3, noise: 0.05, resolution: 0.01 },
  contact: { ...plain, lagS: 0, noise: 0, resolution: 1 },
};

export const probe = (
  place: Place,
  quantity: Quantity,
  heightM: number,
  own: Partial<Pick<Probe, 'offset' | 'resolution' | 'noise' | 'lagS' | 'setSalinity'>> = {},
): Probe => ({ place, quantity, heightM, ...MAKE[quantity], ...own });

/** One tank's usual probes, all at one height. */
export const probesIn = (tankId: string, heightM: number, quantities: readonly Quantity[]): readonly Probe[] =>
  quantities.map((quantity) => probe({ kind: 'tank', id: tankId }, quantity, heightM));

export const headerProbes = (line: string, quantities: readonly Quantity[]): readonly Probe[] =>
  quantities.map((quantity) => probe({ kind: 'header', line }, quantity, 0.15));
