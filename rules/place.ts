import type { Quantity } from './quantity.js';
import type { Stage } from './stage/stage.js';

/** Anything with water, air or power. */
export const PLACE_KINDS = ['tank', 'line', 'intake', 'bath', 'room', 'air-main', 'circuit'] as const;
export type PlaceKind = (typeof PLACE_KINDS)[number];
export const isPlaceKind = (text: string): text is PlaceKind => (PLACE_KINDS as readonly string[]).includes(text);

export const REGIMES = ['static', 'flow-through', 'recirculating'] as const;
export type Regime = (typeof REGIMES)[number];

/** What a clam lies in. Depths in metres; porosity as a share of volume; grain in millimetres. */
export type Bed = {
  readonly kind: 'sand' | 'aragonite';
  readonly depthM: number;
  readonly porosity?: number;
  readonly grainMm?: number;
  readonly flow?: 'none' | 'up' | 'down';
  readonly cleanedAtMs?: number;
};

/** Lines that a hatchery set itself for one quantity at a place, over what its stage profile says. */
export type OwnWants = {
  readonly targetLow?: number;
  readonly targetHigh?: number;
  readonly limitLow?: number;
  readonly limitHigh?: number;
  readonly ceilingHigh?: number;
  readonly ceilingLow?: number;
  readonly onDelayMs?: number;
  readonly offDelayMs?: number;
  readonly deadband?: number;
  /** The hatchery looked at these lines for this stage and stands by them. */
  readonly confirmed?: boolean;
  /** No limit is wanted here: the channel is listed under "not watched". */
  readonly unwatched?: boolean;
};

export type Place = {
  /** Lower-case letters, digits and dashes; never changes. The name may. */
  readonly id: string;
  readonly kind: PlaceKind;
  readonly name: string;
  /** Where it stands on the wall, left to right within its line; never reshuffled by state. */
  readonly order: number;
  readonly lineId?: string;
  readonly airMainId?: string;
  readonly circuitId?: string;
  readonly roomId?: string;
  readonly volumeL?: number;
  readonly depthM?: number;
  readonly regime?: Regime;
  /** Turnover of a flow-through tank. */
  readonly flowLMin?: number;
  readonly heaterW?: number;
  readonly aerated?: boolean;
  readonly bed?: Bed;
  readonly stage?: Stage;
  readonly stageSinceMs?: number;
  readonly speciesGroup?: string;
  readonly batch?: string;
  readonly wants?: { readonly [quantity in Quantity]?: OwnWants };
};

const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
export const isPlaceId = (text: string): boolean => text.length <= 40 && SLUG.test(text);
