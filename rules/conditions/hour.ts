import { zoneOffsetMs } from '../words/clock.js';
import type { View } from './view.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Work of the day, when nobody said who is there: 07:00 to 18:00. Common practice, no source. */
const DAY_FROM_H = 7;
const DAY_TO_H = 18;

/** Hour of the local day, 0 to below 24. */
export const localHour = (atMs: number, zone: string): number => {
  const local = atMs + zoneOffsetMs(atMs, zone);
  return (local - Math.floor(local / DAY_MS) * DAY_MS) / HOUR_MS;
};

export const isWorkingHour = (atMs: number, zone: string): boolean => {
  const hour = localHour(atMs, zone);
  return hour >= DAY_FROM_H && hour < DAY_TO_H;
};

/** Whether somebody can be expected on site: as declared, else by the hour. */
export const isSomebodyThere = ({ presence, site }: View, nowMs: number): boolean =>
  presence?.onSite ?? isWorkingHour(nowMs, site.zone);
