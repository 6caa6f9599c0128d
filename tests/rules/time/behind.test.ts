import { expect, test } from 'vitest';
import { HOUR, larvae, MINUTE, site, WATER, watch } from '../../support/watch.js';

const settings = site([larvae('l1')], { l1: { probes: WATER, board: 'b1' } });
type Watched = ReturnType<typeof watch>;

/** Readings of all three probes each half minute, stamped so much before they arrive. */
const sends = (watched: Watched, minutes: number, lagMs: (minute: number) => number, warmC = 24): void => {
  for (let half = 0; half < 2 * minutes; half += 1) {
    const atMs = watched.now() + (half + 1) * 30_000;
    const deviceMs = atMs - lagMs((half + 1) / 2);
    const jitter = (half % 3) * 0.01;
    for (const [index, raw] of [warmC, 31, 6.8].entries())
      watched.tell({ kind: 'reading', atMs, sourceId: index + 1, raw: raw + jitter, deviceMs });
    watched.tell({ kind: 'tick', atMs });
  }
};
const kept = (watched: Watched) => watched.effects().flatMap((effect) => (effect.do === 'keep' ? [effect] : []));

test('a board whose clock is set back by four hours stays seen: its arrivals count, and the clock is reported', () => {
  const watched = watch(settings);
  watched.lives(30);
  sends(watched, 40, () => 4 * HOUR);
  expect(watched.calls()).toEqual(['cond-on clock-wrong b1']);
  const last = kept(watched).at(-1);
  expect(last).toMatchObject({ deviceMs: last?.arrivalMs, refusedMs: (last?.arrivalMs ?? 0) - 4 * HOUR });
});

test('water that is too warm is called by such a board too', () => {
  const watched = watch(settings);
  watched.lives(30);
  sends(watched, 10, () => 4 * HOUR);
  const quiet = watched.calls().length;
  const later = watch(settings);
  later.lives(30);
  sends(later, 20, () => 4 * HOUR, 31);
  expect(quiet).toBe(0);
  expect(later.calls()).toContain('cond-on above-ceiling l1.temperature');
});

test('what a board held back while it was away is old water, however long it takes to send it', () => {
  const watched = watch(settings);
  watched.lives(30);
  watched.lives(60, { 'l1.temperature': undefined, 'l1.salinity': undefined, 'l1.oxygen-mg-l': undefined });
  // An hour behind and never catching up, since it sends no faster than it reads.
  sends(watched, 30, () => HOUR, 31);
  expect(watched.holds()).not.toContain('above-ceiling l1.temperature');
  expect(kept(watched).at(-1)?.refusedMs).toBeUndefined();
});

test('a backlog between fresh readings keeps its own times', () => {
  const watched = watch(settings);
  watched.lives(60);
  for (let minute = 0; minute < 10; minute += 1) {
    watched.lives(1);
    const deviceMs = watched.now() - HOUR + minute * MINUTE;
    watched.tell({ kind: 'reading', atMs: watched.now() + 1, sourceId: 1, raw: 24.111, deviceMs });
  }
  const old = kept(watched).filter(({ raw }) => raw === 24.111);
  expect(old.map(({ refusedMs }) => refusedMs)).toEqual(old.map(() => undefined));
  expect(watched.calls()).toEqual([]);
});

test('a clock that is set right again is believed again', () => {
  const watched = watch(settings);
  watched.lives(30);
  sends(watched, 20, () => 4 * HOUR);
  const beganMs = watched.now() + 20 * MINUTE;
  watched.tell({ kind: 'reading', atMs: beganMs + 5_000, sourceId: 1, raw: 24.5, deviceMs: beganMs + 4_000 });
  expect(kept(watched).at(-1)).toMatchObject({ deviceMs: beganMs + 4_000 });
  expect(kept(watched).at(-1)?.refusedMs).toBeUndefined();
});
