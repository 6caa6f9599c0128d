import type { Quantity } from './quantity.js';
import type { Stage } from './stage/stage.js';
import type { Task } from './work.js';

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
  /** The thinnest oxygenated layer that the hatchery accepts here. */
  readonly limitDepthMm?: number;
  /** Demand of the clean bed at 20 °C in saturated water, where somebody measured it. */
  readonly cleanDemandMmolM2Day?: number;
  /** Waste that comes to lie on it; without it the time since cleaning says nothing by itself. */
  readonly wasteMmolCM2Day?: number;
  /** Water pumped through it when its pump runs. */
  readonly throughFlowLM2H?: number;
  /** What the last look at the layer said (rules/bed/calibration.ts). */
  readonly calibration?: {
    readonly kind: 'core' | 'black-edge';
    readonly depthMm: number;
    readonly atMs: number;
    readonly transport: number;
    readonly pumped: boolean;
  };
  /** The last looks at the layer, oldest first, each beside what had been estimated for that moment. */
  readonly looks?: readonly BedLook[];
};

/** What somebody saw of the oxygenated layer, and what the estimate had been before they looked; mm. */
export type BedLook = {
  readonly atMs: number;
  readonly kind: 'core' | 'black-edge';
  readonly seenMm: number;
  readonly estimatedLowMm: number;
  /** Only where the bed was calibrated by then. */
  readonly estimatedMm?: number;
  readonly estimatedHighMm: number;
};

/**
 * A target that moves: along dated points, straight between them, or after a channel of another place. The band is so
 * much wide on either side. Limits and ceilings stay where they are.
 */
export type Course =
  | {
      readonly kind: 'schedule';
      readonly points: readonly { readonly atMs: number; readonly target: number }[];
      readonly within: number;
    }
  | { readonly kind: 'follows'; readonly placeId: string; readonly offset: number; readonly within: number };

/** Lines that a hatchery set itself for one quantity at a place, over what its stage profile says. */
export type OwnWants = {
  readonly targetLow?: number;
  readonly targetHigh?: number;
  /** Goes before the two above while it can be told. */
  readonly course?: Course;
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

/** Lines that a change of stage would have made wider. */
export type HeldLines = {
  readonly limitLow?: number;
  readonly limitHigh?: number;
  readonly ceilingLow?: number;
  readonly ceilingHigh?: number;
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
  /** Cooled by a chiller: warming towards the room is a fault. */
  readonly chilled?: boolean;
  readonly aerated?: boolean;
  readonly bed?: Bed;
  readonly stage?: Stage;
  readonly stageSinceMs?: number;
  readonly speciesGroup?: string;
  readonly batch?: string;
  readonly wants?: { readonly [quantity in Quantity]?: OwnWants };
  /** The same for one stage alone: goes before `wants` while the place is in that stage. */
  readonly stageWants?: { readonly [stage in Stage]?: { readonly [quantity in Quantity]?: OwnWants } };
  /** Tighter lines of the stage before, kept until a person takes the wider ones. */
  readonly held?: { readonly [quantity in Quantity]?: HeldLines };
  /** Hours between two times of work that comes back, over what the stage says; 0 is never. */
  readonly upkeepH?: { readonly [task in Task]?: number };
};

const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
export const isPlaceId = (text: string): boolean => text.length <= 40 && SLUG.test(text);
