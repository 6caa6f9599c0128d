import { mergedColumns } from '../journal/sealed/columns.js';
import type { DayColumns } from '../journal/sealed/day.js';
import { DAY_MS, dayOf, type SealedDay, type SealedDays } from '../journal/sealed-days.js';
import type { OlderDays } from './older-days.js';

/** Numbers of days of which a part is here and a part was fetched: below those of fetched days. */
const PAIRS_BELOW = -(2 ** 50);

/** A fetched day opened last stays open, as those that lie here do. */
const DAYS_REMEMBERED = 48;

/** The days that lie sealed here and those that were fetched, as if all lay here. */
export const uniteDays = (here: SealedDays, older: OlderDays): SealedDays => {
  const pairs = new Map<number, readonly [SealedDay, SealedDay]>();
  const numbers = new Map<string, number>();
  const opened = new Map<number, DayColumns>();

  const pair = (one: SealedDay, other: SealedDay): SealedDay => {
    const key = `${one.seal} ${other.seal}`;
    const seal = numbers.get(key) ?? PAIRS_BELOW - numbers.size;
    numbers.set(key, seal);
    pairs.set(seal, [one, other]);
    return {
      seal,
      day: one.day,
      readings: one.readings + other.readings,
      firstMs: Math.min(one.firstMs, other.firstMs),
      lastMs: Math.max(one.lastMs, other.lastMs),
    };
  };
  const within: SealedDays['within'] = (sourceId, fromMs, toMs) => {
    const fetched = older.within(sourceId, { fromMs, toMs });
    const kept = here.within(sourceId, fromMs, toMs);
    if (fetched.length === 0) return kept;
    const days = new Map(kept.map((day) => [day.day, day]));
    for (const day of fetched) {
      const beside = days.get(day.day);
      days.set(day.day, beside === undefined ? day : pair(beside, day));
    }
    return [...days.values()].sort((a, b) => a.day - b.day);
  };
  const open = (seal: number): DayColumns => {
    const [one, other] = pairs.get(seal) ?? [];
    if (one === undefined || other === undefined) return older.columns(seal);
    return mergedColumns(here.columns(one.seal), older.columns(other.seal));
  };
  const columns = (seal: number): DayColumns => {
    if (seal > 0) return here.columns(seal);
    const day = opened.get(seal) ?? open(seal);
    opened.delete(seal);
    opened.set(seal, day);
    const [oldest] = opened.keys();
    if (opened.size > DAYS_REMEMBERED && oldest !== undefined) opened.delete(oldest);
    return day;
  };
  /** The day of a moment, and the one beside it, may have been fetched; further away the hours tell. */
  const near = (sourceId: number, atMs: number): readonly SealedDay[] =>
    within(sourceId, (dayOf(atMs) - 1) * DAY_MS, (dayOf(atMs) + 2) * DAY_MS);
  return {
    at: here.at,
    within,
    lastBefore: (sourceId, atMs) =>
      near(sourceId, atMs).findLast(({ firstMs }) => firstMs < atMs) ?? here.lastBefore(sourceId, atMs),
    firstFrom: (sourceId, atMs) =>
      near(sourceId, atMs).find(({ lastMs }) => lastMs >= atMs) ?? here.firstFrom(sourceId, atMs),
    columns,
    reload: here.reload,
  };
};
