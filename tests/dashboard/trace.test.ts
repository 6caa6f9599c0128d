import { describe, expect, it } from 'vitest';
import { ownScale, traceColumns, withNow } from '../../dashboard/chart/columns.js';
import { fanOf } from '../../dashboard/chart/fan.js';
import { gapsOnPaper } from '../../dashboard/chart/gap.js';

const same = (value: number): number => value;

describe('columns of a trace', () => {
  it('break the line at a gap instead of lying across it', () => {
    const readings = { atMs: [0, 10, 50, 60], min: [1, 2, 3, 4], mean: [1, 2, 3, 4], max: [1, 2, 3, 4] };
    const columns = traceColumns({ ...readings, gaps: [{ fromMs: 11, toMs: 50, reason: 'board-silent' }] }, same);
    expect(columns.atMs).toEqual([0, 10, 11, 50, 60]);
    expect(columns.mean).toEqual([1, 2, null, 3, 4]);
  });

  it('break once where two gaps lie between two readings', () => {
    const readings = { atMs: [0, 100], min: [1, 2], mean: [1, 2], max: [1, 2] };
    const gaps = [
      { fromMs: 10, toMs: 20, reason: 'board-silent' as const },
      { fromMs: 20, toMs: 90, reason: 'broker-down' as const },
    ];
    expect(traceColumns({ ...readings, gaps }, same).mean).toEqual([1, null, 2]);
  });

  it('keep an empty bucket empty, and zero a number', () => {
    const readings = { atMs: [0, 1, 2], min: [0, null, 0], mean: [0, null, 0], max: [0, null, 0], gaps: [] };
    expect(traceColumns(readings, same).mean).toEqual([0, null, 0]);
  });

  it('end at the value that stands now, unless that is older or far away', () => {
    const past = { atMs: [0, 60_000], mean: [0, 1], low: [0, 1], high: [0, 1] };
    expect(withNow(past, { atMs: 90_000, place: 0 }).mean).toEqual([0, 1, 0]);
    expect(withNow(past, { atMs: 60_000, place: 0 })).toBe(past);
    expect(withNow(past, { atMs: 90_000, place: undefined })).toBe(past);
    expect(withNow(past, { atMs: 3_600_000, place: 0 })).toBe(past);
  });

  it('scale a channel that wants nothing on its own span, even when it never moved', () => {
    expect(ownScale({ min: [10, null], max: [20, null] })(20)).toBeCloseTo(1.5, 10);
    expect(ownScale({ min: [0], max: [0] })(0)).toBe(0);
    expect(ownScale({ min: [null], max: [null] })(3)).toBeUndefined();
  });
});

describe('gaps on paper', () => {
  const paper = {
    xOf: (atMs: number) => atMs,
    left: 0,
    right: 100,
    reserved: 0,
    say: (reason: string) => reason,
    widthOf: (text: string) => text.length,
  };
  it('are clipped to the paper, and left out beyond it', () => {
    const gaps = gapsOnPaper(
      [
        { fromMs: -50, toMs: -10, reason: 'board-silent' },
        { fromMs: -5, toMs: 20, reason: 'board-silent' },
        { fromMs: 90, toMs: 300, reason: 'gateway-down' },
        { fromMs: 200, toMs: 300, reason: 'gateway-down' },
      ],
      paper,
    );
    expect(gaps.map(({ from, to }) => [from, to])).toEqual([
      [0, 20],
      [90, 100],
    ]);
  });

  it('are never too thin to be seen', () => {
    const [gap] = gapsOnPaper([{ fromMs: 50, toMs: 50.1, reason: 'board-silent' }], paper);
    expect((gap?.to ?? 0) - (gap?.from ?? 0)).toBeGreaterThanOrEqual(3);
  });

  it('name their reason where it does not run into the one before', () => {
    const gaps = gapsOnPaper(
      [
        { fromMs: 40, toMs: 44, reason: 'board-silent' },
        { fromMs: 46, toMs: 48, reason: 'out-of-water' },
        { fromMs: 80, toMs: 84, reason: 'out-of-water' },
      ],
      paper,
    );
    expect(gaps.map(({ label }) => label)).toEqual(['board-silent', undefined, 'out-of-water']);
  });
});

describe('the name of a gap', () => {
  it('moves right of what is written at the left edge', () => {
    const paper = {
      xOf: (at: number) => at,
      left: 0,
      right: 100,
      reserved: 20,
      say: () => 'broker',
      widthOf: () => 16,
    };
    const [gap] = gapsOnPaper([{ fromMs: 18, toMs: 22, reason: 'broker-down' }], paper);
    expect(gap).toMatchObject({ from: 18, to: 22, label: 'broker', at: 28 });
  });
});

describe('the fan of a forecast', () => {
  const now = { atMs: 100, place: 1 };
  it('goes from now to the line, as wide as the interval', () => {
    expect(fanOf(now, { atMs: 150, earliestMs: 130, latestMs: 180, basis: [] }, 2.5, 300)).toEqual([
      [100, 1],
      [130, 2.5],
      [180, 2.5],
    ]);
  });

  it('stays open where the line may never be reached', () => {
    expect(fanOf(now, { atMs: 150, earliestMs: 130, basis: [] }, 2.5, 300).at(-1)).toEqual([300, 1]);
  });

  it('is not drawn backwards in time', () => {
    expect(fanOf(now, { atMs: 90, earliestMs: 80, latestMs: 95, basis: [] }, 2.5, 300)).toEqual([]);
  });
});
