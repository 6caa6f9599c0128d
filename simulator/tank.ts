/** What a simulated tank is made of. State lies in water.ts. */

export type Regime = 'static' | 'flow-through' | 'recirculating';

export type Bed =
  | { readonly kind: 'none' }
  | {
      readonly kind: 'sand' | 'aragonite';
      readonly depthM: number;
      /** Oxygen taken by a clean bed at 20 °C, mg per square metre and hour. */
      readonly uptakeMgM2H: number;
    };

/** A heater or chiller with its switch: on at half a band on the wrong side of the set-point, off at half on the other. */
export type Thermostat = {
  readonly powerKw: number;
  readonly setC: number;
  readonly bandC: number;
  readonly circuit: string;
};

export type Animals = {
  /** Oxygen taken by all of them at rest at 20 °C and plenty of oxygen, mg/h. */
  readonly restMgH: number;
  /** By how much more while they have as much food as they can take: 0.6 is 60 %. */
  readonly feedingShare: number;
};

export type Tank = {
  readonly id: string;
  readonly line: string;
  readonly room: string;
  readonly airMain: string;
  readonly stage: string;
  readonly speciesGroup: string;
  readonly regime: Regime;
  /** Full, to the overflow. */
  readonly volumeL: number;
  readonly depthM: number;
  readonly bed: Bed;
  /** Through-flow when open; 0 in a static tank. */
  readonly flowLMin: number;
  readonly fillLMin: number;
  readonly drainLMin: number;
  /** Gas exchange by the air stones at 20 °C, per hour. */
  readonly bubblesPerH: number;
  /** Gas exchange through the bare surface at 20 °C, metres per hour. */
  readonly surfaceMPerH: number;
  /** Watts through a square metre of wall or floor and kelvin. */
  readonly wallWPerM2K: number;
  /** Share of the surface that can evaporate: 1 open, 0.2 under a lid. */
  readonly openShare: number;
  readonly heater?: Thermostat;
  readonly chiller?: Thermostat;
  readonly animals: Animals;
  /** Oxygen made by algae in full light, mg/L and hour; 0 in clear water. */
  readonly algaeMgLH: number;
};

export const surfaceM2 = (tank: Tank): number => tank.volumeL / 1000 / tank.depthM;

/** What stays on the floor of a drained tank. Never nothing, so that no balance divides by zero. */
export const dregsL = (tank: Tank): number => tank.volumeL * 0.002;

export const depthOf = (volumeL: number, tank: Tank): number => (volumeL / tank.volumeL) * tank.depthM;
