import type { HoursLeft } from '../seawater/hours-left.js';
import { hoursOfOxygenLeft, hoursOfOxygenLeftFromSlope } from '../seawater/oxygen-left.js';
import { exactly, type Interval } from '../statistics/interval.js';

/** A tank as it stands when power, and with it air and flow, goes. */
export type TankAtPowerCut = {
  readonly placeId: string;
  readonly oxygenMgL?: Interval;
  readonly limitMgL?: number;
  readonly solubilityMgL?: number;
  /** What its animals and water take up, where somebody measured or computed it. */
  readonly uptakeMgLPerH?: Interval;
  /** As it falls since the air stopped. */
  readonly slopeMgLPerH?: Interval;
};

export type OxygenPlace = {
  readonly placeId: string;
  readonly left?: HoursLeft;
  /** `measured`: the fall since the cut; `budget`: a sealed tank and its uptake; `unknown`: look at it by hand. */
  readonly basis: 'measured' | 'budget' | 'unknown';
  readonly oxygenMgL?: number;
};

const NO_AIR = exactly(0);

const placeOf = (tank: TankAtPowerCut): OxygenPlace => {
  const { placeId, oxygenMgL, limitMgL, slopeMgLPerH, uptakeMgLPerH, solubilityMgL } = tank;
  const known = { placeId, ...(oxygenMgL === undefined ? {} : { oxygenMgL: oxygenMgL.mid }) };
  if (oxygenMgL === undefined || limitMgL === undefined) return { ...known, basis: 'unknown' };
  if (slopeMgLPerH !== undefined && slopeMgLPerH.mid < 0) {
    const left = hoursOfOxygenLeftFromSlope({ oxygenMgL, slopeMgLPerH, limitMgL });
    if (left.ok) return { ...known, left: left.value, basis: 'measured' };
  }
  if (uptakeMgLPerH !== undefined && solubilityMgL !== undefined) {
    const sealed = {
      oxygenMgL,
      solubilityMgL,
      uptakeMgLPerH,
      limitMgL,
      reaerationPerH: NO_AIR,
      exchangePerH: 0,
      inflowOxygenMgL: 0,
    };
    const left = hoursOfOxygenLeft(sealed);
    if (left.ok) return { ...known, left: left.value, basis: 'budget' };
  }
  return { ...known, basis: 'unknown' };
};

/** Hours to the bad end; what never runs out is last of what is known. */
const soonestH = ({ left }: OxygenPlace): number => {
  switch (left?.kind) {
    case 'already':
      return 0;
    case 'reaches':
      return left.hours.low;
    case 'may-reach':
      return left.soonestHours;
    default:
      return Infinity;
  }
};

/**
 * Tanks in the order in which their oxygen runs out without power. Those of which nothing is known come after those that
 * run out, the lowest oxygen first: they are to be looked at by hand, not taken for safe.
 */
export const oxygenOrder = (tanks: readonly TankAtPowerCut[]): readonly OxygenPlace[] => {
  const places = tanks.map(placeOf);
  const rank = (place: OxygenPlace): number => (place.basis === 'unknown' ? 1 : soonestH(place) === Infinity ? 2 : 0);
  return places.sort(
    (a, b) =>
      rank(a) - rank(b) ||
      (rank(a) === 0 ? soonestH(a) - soonestH(b) : (a.oxygenMgL ?? Infinity) - (b.oxygenMgL ?? Infinity) || 0) ||
      (a.placeId < b.placeId ? -1 : 1),
  );
};
