import type { Board, BoardState } from './board.js';
import type { Room } from './room.js';
import type { Line, Supply } from './supply.js';
import type { Tank } from './tank.js';
import type { Water } from './water.js';
import type { Climate } from './weather.js';

/** A blower and its pipe. */
export type AirMain = { readonly id: string; readonly circuit: string };

/** A hatchery as it is built. What changes lies in HatcheryState. */
export type Hatchery = {
  readonly site: { readonly id: string; readonly name: string };
  readonly seed: number;
  readonly climate: Climate;
  readonly rooms: readonly Room[];
  readonly circuits: readonly string[];
  readonly airMains: readonly AirMain[];
  readonly lines: readonly Line[];
  readonly tanks: readonly Tank[];
  readonly boards: readonly Board[];
};

export type HatcheryState = {
  readonly atMs: number;
  readonly roomC: ById<number>;
  readonly circuitOn: ById<boolean>;
  readonly airMainOn: ById<boolean>;
  readonly supply: ById<Supply>;
  readonly water: ById<Water>;
  readonly board: ById<BoardState>;
};

export type ById<T> = { readonly [id: string]: T };

/** The entry of `id`. A hatchery that names what it does not have is our own mistake. */
export const known = <T>(byId: ById<T>, id: string): T => {
  const found = byId[id];
  if (found === undefined) throw new Error(`No ${id} in this hatchery`);
  return found;
};

export const named = <T extends { readonly id: string }>(list: readonly T[], id: string): T => {
  const found = list.find((one) => one.id === id);
  if (found === undefined) throw new Error(`No ${id} in this hatchery`);
  return found;
};

export const byId = <T extends { readonly id: string }, V>(list: readonly T[], each: (one: T) => V): ById<V> =>
  Object.fromEntries(list.map((one) => [one.id, each(one)]));
