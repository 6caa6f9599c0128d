import type { Band, Figure, Origin, Span } from './profile.js';
import type { Standing } from './standing.js';

/** The short notation in which the profiles are written down. */
export type From = Omit<Origin, 'standing'>;

export const figure = (value: number, standing: Standing, from: From = {}): Figure => ({ value, standing, ...from });

/** `undefined` leaves an end open. */
export const span = (low: number | undefined, high: number | undefined, standing: Standing, from: From = {}): Span => ({
  ...(low === undefined ? {} : { low }),
  ...(high === undefined ? {} : { high }),
  standing,
  ...from,
});

/** A span whose two ends do not have the same standing; a source named belongs to the confirmed or derived end. */
export const mixed = (
  low: number,
  lowStanding: Standing,
  high: number,
  highStanding: Standing,
  from: From = {},
): Span => ({
  low,
  high,
  standing: 'mixed',
  lowStanding,
  highStanding,
  ...from,
});

export const band = (target: Span, limit: Span, ceiling?: Figure): Band => ({
  target,
  limit,
  ...(ceiling === undefined ? {} : { ceiling }),
});

/** No figure found: nothing is watched until the hatchery sets one. */
export const UNKNOWN: Band = {
  target: { standing: 'unknown' },
  limit: { standing: 'unknown' },
};

/** Oxygen in aerated hatchery water, % of air saturation. Only the lower limit differs between stages. */
export const aerated = (lowLimitPct: number, from: From = {}, standing: Standing = 'placeholder'): Band =>
  band(
    span(80, 105, 'practice', {
      note: 'aerated water sits near 100 %; a lasting 105-110 % or more after heating cold water points to gas supersaturation (memory)',
    }),
    span(lowLimitPct, 115, standing, from),
  );

type AirSaturation = {
  readonly airMgL: number;
  readonly temperatureC: number;
  readonly salinity: number;
  readonly limitPct: number;
};

/** Oxygen in mg/L at a share of air saturation, to the one decimal that a meter shows. */
const shareOf = (airMgL: number, pct: number): number => Math.round((airMgL * pct) / 10) / 10;

/** The band of `aerated` in mg/L; `airMgL` is air saturation at the temperature and salinity named, 1 atm. */
export const ofAirSaturation = ({ airMgL, temperatureC, salinity, limitPct }: AirSaturation): Band => {
  const water = `${airMgL.toFixed(2)} mg/L, air saturation at ${temperatureC} °C and salinity ${salinity}`;
  return band(
    span(shareOf(airMgL, 80), shareOf(airMgL, 105), 'derived', { source: 'BK84', note: `80-105 % of ${water}` }),
    span(shareOf(airMgL, limitPct), shareOf(airMgL, 115), 'derived', {
      source: 'BK84',
      note: `${limitPct}-115 % of the same`,
    }),
  );
};
