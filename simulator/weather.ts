import { seedFrom, wanderAt } from './random.js';

/** The weather of a place as a function of the moment alone: the same night however it is stepped through. */
export type Climate = {
  readonly seed: number;
  readonly meanC: number;
  /** Half the difference between an ordinary afternoon and an ordinary dawn. */
  readonly dayC: number;
  /** How far spells of warm and cold weather reach from the mean. */
  readonly spellC: number;
  /** Sun time minus UTC, hours. Nothing here knows civil time. */
  readonly sunHours: number;
  /** 0 dry to 1 wet. */
  readonly wetness: number;
};

export type Weather = {
  readonly airC: number;
  /** 0 to 1. */
  readonly humidity: number;
  readonly rainMmH: number;
  /** 0 at night, 1 at a clear noon. */
  readonly light: number;
};

const HOUR_MS = 3_600_000;

/** Hour of the sun, 0 to 24. */
export const sunHourAt = (climate: Climate, atMs: number): number => {
  const hour = (atMs / HOUR_MS + climate.sunHours) % 24;
  return hour < 0 ? hour + 24 : hour;
};

export const weatherAt = (climate: Climate, atMs: number): Weather => {
  const wander = (label: string, hours: number): number =>
    wanderAt(seedFrom(climate.seed, label), atMs, hours * HOUR_MS);
  const hour = sunHourAt(climate, atMs);
  const cloud = 0.5 + 0.5 * wander('cloud', 11);
  const shower = wander('front', 29) + 0.5 * wander('shower', 3) - (1.3 - climate.wetness);
  const day = Math.cos((2 * Math.PI * (hour - 15)) / 24);
  return {
    airC: climate.meanC + climate.dayC * (1 - 0.5 * cloud) * day + climate.spellC * wander('spell', 57),
    humidity: Math.min(0.97, 0.72 - 0.12 * day + 0.12 * cloud),
    rainMmH: Math.max(0, 9 * shower),
    light: Math.max(0, Math.sin((Math.PI * (hour - 6)) / 12)) * (1 - 0.65 * cloud),
  };
};
