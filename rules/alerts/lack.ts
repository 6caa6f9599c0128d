import type { Person, Unreachable, Way } from './person.js';
import type { WatchGap } from './watch-plan.js';

/** What keeps people from being woken, or the world from noticing that nobody watches. Told by day, under "not watched". */
export type Lack =
  | ({ readonly kind: 'nobody-on-call' } & WatchGap)
  | { readonly kind: 'no-people' }
  | {
      readonly kind: 'unreachable';
      readonly personId: string;
      readonly name: string;
      readonly why: Unreachable;
    }
  /** A test call was sent by these ways, and nobody has said whether it came. */
  | {
      readonly kind: 'drill-unanswered';
      readonly personId: string;
      readonly name: string;
      readonly ways: readonly Way[];
      readonly sinceMs: number;
    }
  /** Push without a phone that subscribed. */
  | { readonly kind: 'no-phone'; readonly personId: string; readonly name: string }
  | { readonly kind: 'way-not-set-up'; readonly way: Way; readonly names: readonly string[] }
  /** The newest tries of a way all failed. */
  | { readonly kind: 'way-fails'; readonly way: Way; readonly sinceMs: number; readonly code: string }
  | { readonly kind: 'check-in-fails'; readonly sinceMs: number }
  /** A history database elsewhere has taken nothing for long: the only whole copy is on this machine. */
  | { readonly kind: 'history-away'; readonly sinceMs: number }
  | { readonly kind: 'no-answer-outside' };

/** A test call by some ways. */
export type Drilled = { readonly atMs: number; readonly personId: string; readonly ways: readonly Way[] };

/** So long a person may take to say whether a test call came. Decision of this project. */
const DRILL_ANSWER_MS = 3_600_000;

/** Every way of a person whose newest test call was never answered for. */
export const unansweredDrills = (
  people: readonly Person[],
  drilled: readonly Drilled[],
  nowMs: number,
): readonly Extract<Lack, { kind: 'drill-unanswered' }>[] =>
  people.flatMap(({ id: personId, name, ways }) => {
    const open = ways.flatMap(({ way, triedMs }) => {
      const last = drilled.findLast((one) => one.personId === personId && one.ways.includes(way));
      const isOpen = last !== undefined && last.atMs > (triedMs ?? 0) && nowMs - last.atMs > DRILL_ANSWER_MS;
      return isOpen ? [{ way, atMs: last.atMs }] : [];
    });
    if (open.length === 0) return [];
    const sinceMs = Math.min(...open.map(({ atMs }) => atMs));
    return [{ kind: 'drill-unanswered', personId, name, ways: open.map(({ way }) => way), sinceMs }];
  });

/** One try of a way, oldest first in a list. `code`: why it failed; absent when it was taken. */
export type Tried = { readonly way: Way; readonly atMs: number; readonly code?: string };

/** A way whose last two tries, or more, came to nothing. */
export const failingWays = (tries: readonly Tried[]): readonly Extract<Lack, { kind: 'way-fails' }>[] =>
  [...new Set(tries.map(({ way }) => way))].flatMap((way) => {
    const own = tries.filter((one) => one.way === way);
    const lastGood = own.findLastIndex(({ code }) => code === undefined);
    const failed = own.slice(lastGood + 1);
    const [first] = failed;
    const code = failed.at(-1)?.code;
    if (first === undefined || code === undefined || failed.length < 2) return [];
    return [{ kind: 'way-fails', way, sinceMs: first.atMs, code }];
  });
