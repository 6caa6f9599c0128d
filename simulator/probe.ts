import type { Quantity as AnyQuantity } from '../rules/quantity.js';
import { normalAt, seedFrom } from './random.js';
import { rounded } from './resolution.js';

/** Where a probe hangs: in a tank, in the header of a line, on an air main or on a power circuit. */
export type Place =
  | { readonly kind: 'tank'; readonly id: string }
  | { readonly kind: 'header'; readonly line: string }
  | { readonly kind: 'air-main'; readonly id: string }
  | { readonly kind: 'circuit'; readonly id: string };

/** What the simulated boards can measure. */
export type Quantity = Extract<
  AnyQuantity,
  'temperature' | 'conductivity' | 'salinity' | 'oxygen-mg-l' | 'oxygen-saturation' | 'level' | 'flow' | 'contact'
>;

export type Probe = {
  readonly place: Place;
  readonly quantity: Quantity;
  /** Above the floor of its tank. Below half the depth it is in the lower layer. */
  readonly heightM: number;
  /** Time in which it makes 63 % of a step, seconds. */
  readonly lagS: number;
  /** Standard deviation in stirred water, in the unit of the quantity; calm water shows a third of it. */
  readonly noise: number;
  readonly resolution: number;
  readonly offset: number;
  /** Since its last service. */
  readonly driftPerDay: number;
  /** Salinity set by hand in an oxygen meter; undefined when it has none and takes the water's own. */
  readonly setSalinity?: number;
};

/** What there is for a probe to read. */
export type Truth = { readonly value: number; readonly inAir: boolean; readonly calm: boolean };

const DAY_MS = 86_400_000;
const SERVICE_DAYS = 7;
const CALM_SHARE = 1 / 3;
/** Air takes heat from a wet probe much more slowly than water does. */
const THERMOMETER_IN_AIR = 8;
/** An oxygen meter that was never above its floor or a cell that never reads below zero: what no probe goes below. */
const FLOOR: { readonly [quantity in Quantity]: number } = {
  temperature: -127,
  conductivity: 0,
  salinity: 0,
  'oxygen-mg-l': 0,
  'oxygen-saturation': 0,
  level: 0,
  flow: 0,
  contact: 0,
};

/** Every probe is wiped and checked once a week, those of one place together, shortly before noon (common practice). */
export const daysSinceService = (place: string, atMs: number): number => {
  const phase = (seedFrom(0, place) % SERVICE_DAYS) + 0.48;
  return (((atMs / DAY_MS - phase) % SERVICE_DAYS) + SERVICE_DAYS) % SERVICE_DAYS;
};

export const placeName = (place: Place): string => (place.kind === 'header' ? `${place.line}-header` : place.id);

/** Names a probe within its hatchery. */
export const probeKey = (probe: Probe): string => `${placeName(probe.place)}/${probe.quantity}`;

/** What the sensing part has come to feel: a first-order lag, exact for any step. */
export const stepFelt = (feltBefore: number | undefined, probe: Probe, truth: Truth, dtS: number): number => {
  if (feltBefore === undefined || probe.lagS === 0) return truth.value;
  const slower = truth.inAir && probe.quantity === 'temperature' ? THERMOMETER_IN_AIR : 1;
  return truth.value + (feltBefore - truth.value) * Math.exp(-dtS / (probe.lagS * slower));
};

/** What the probe says: felt value, offset, drift since its service, noise, then its resolution. */
export const readProbe = (felt: number, probe: Probe, truth: Truth, atMs: number, seed: number): number => {
  if (probe.quantity === 'contact') return felt >= 0.5 ? 1 : 0;
  const share = truth.calm || truth.inAir ? CALM_SHARE : 1;
  const noise = probe.noise === 0 ? 0 : probe.noise * share * normalAt(seed, atMs);
  const raw = felt + offNow(probe, truth, atMs) + noise;
  return rounded(Math.max(FLOOR[probe.quantity], raw), probe.resolution);
};

/** Offset and drift. A dry cell conducts nothing, however it has drifted. */
const offNow = (probe: Probe, truth: Truth, atMs: number): number => {
  if (truth.inAir && (probe.quantity === 'conductivity' || probe.quantity === 'salinity')) return 0;
  const days = daysSinceService(placeName(probe.place), atMs);
  return probe.offset + probe.driftPerDay * days;
};
