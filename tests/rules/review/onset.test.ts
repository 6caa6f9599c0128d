import { describe, expect, it } from 'vitest';
import { type DepartureQuestion, departureOf } from '../../../rules/review/departure.js';
import { firstMoverOf, type Moved } from '../../../rules/review/first-mover.js';
import { type PatternTank, patternOf } from '../../../rules/review/pattern.js';
import type { Piece } from '../../../rules/review/piece.js';
import { onsetOf, reviewWindows } from '../../../rules/review/window.js';
import { begun, diary } from '../log/diary.js';

const HOUR = 3_600_000;
const DEAD_MS = Date.UTC(2026, 6, 14, 9);

describe('When deaths began', () => {
  const pen = diary(DEAD_MS - 30 * 24 * HOUR);
  const at = (hoursBefore: number) => ({ atMs: DEAD_MS - hoursBefore * HOUR });
  const stocked = ['l2', 'l3'].map((id) => pen.write('brought-in', id, begun(`B-${id}`, 1000), at(300)));
  const counted = pen.write('count', 'l2', { count: { animals: 990 } }, at(20));
  const fed = pen.write('note', 'l3', { words: 'fed' }, at(2));
  const dead = pen.write('deaths', 'l2', { animals: 900 }, at(0));
  const entries = [...stocked, counted, fed, dead];

  it('is an interval from the last proof of life to the first certain death, and a note proves nothing', () => {
    expect(onsetOf(entries, { placeIds: ['l2'], sinceMs: DEAD_MS - 24 * HOUR })).toEqual({
      certainAliveMs: DEAD_MS - 20 * HOUR,
      certainDeadMs: DEAD_MS,
      aliveEntryId: counted.id,
      deadEntryId: dead.id,
    });
  });

  it('begins for several tanks with the one whose proof is oldest', () => {
    const onset = onsetOf(entries, { placeIds: ['l2', 'l3'], sinceMs: DEAD_MS - 24 * HOUR });
    expect(onset?.certainAliveMs).toBe(DEAD_MS - 300 * HOUR);
  });

  it('is open to the past where a tank has no proof of life at all', () => {
    const onset = onsetOf(entries, { placeIds: ['l2', 'l9'], sinceMs: DEAD_MS - 24 * HOUR });
    expect(onset).toEqual({ certainDeadMs: DEAD_MS, deadEntryId: dead.id });
  });

  it('puts 24 hours, 72 hours and 14 days before the interval, and the interval into each', () => {
    const windows = reviewWindows(
      { certainAliveMs: DEAD_MS - 20 * HOUR, certainDeadMs: DEAD_MS },
      DEAD_MS - 500 * HOUR,
    );
    expect(windows.map(({ name, fromMs, toMs }) => [name, (DEAD_MS - fromMs) / HOUR, toMs])).toEqual([
      ['24h', 44, DEAD_MS],
      ['72h', 92, DEAD_MS],
      ['14d', 356, DEAD_MS],
      ['batch', 500, DEAD_MS],
    ]);
  });
});

describe('Which tanks the deaths follow', () => {
  const tank = (placeId: string, affected: boolean, lineId: string, batch: string): PatternTank => ({
    ...{ placeId, affected, lineId, airMainId: 'air' },
    batches: [batch],
    people: [],
    workDays: [],
  });

  it('is no line where the dead are spread evenly', () => {
    const tanks = ['a', 'b', 'c', 'd'].map((id, n) => tank(id, n % 2 === 0, n < 2 ? 'one' : 'two', id));
    const { along, supplies } = patternOf(tanks);
    expect(along).toBeUndefined();
    // What every tank shares cannot be compared with anything.
    expect(supplies.find(({ kind }) => kind === 'air-main')?.association).toBeUndefined();
  });

  // Check value of Fisher's exact test as in rules/husbandry/line-association.ts: 3 of 4 against 1 of 5, 0.167.
  it('is the line with its counts and chance, and a batch that follows the dead better is said to explain them as well', () => {
    const tanks = [
      ...['a', 'b', 'c'].map((id) => tank(id, true, 'one', 'sick')),
      tank('d', false, 'one', 'well'),
      tank('e', true, 'two', 'sick'),
      ...['f', 'g', 'h', 'i'].map((id) => tank(id, false, 'two', 'well')),
    ];
    const { along, rivals } = patternOf(tanks);
    expect(along).toMatchObject({ id: 'one', affectedOn: 3, of: 4, affectedElsewhere: 1, ofElsewhere: 5 });
    expect(along?.association?.pOneSided).toBeCloseTo(21 / 126, 9);
    expect(rivals).toMatchObject([{ kind: 'batch', id: 'sick', affectedOn: 4, of: 4, asWell: true }]);
  });
});

describe('What moved first', () => {
  const piece = (hour: number, from: number, to: number): Piece => ({
    ...{ fromMs: hour * HOUR, toMs: (hour + 1) * HOUR },
    ...{ from, to },
  });
  const question = (pieces: readonly Piece[]): DepartureQuestion => ({
    channelId: 'warm.temperature',
    quantity: 'temperature',
    pieces,
    span: { fromMs: 0, toMs: 30 * HOUR },
  });
  const usual = Array.from({ length: 20 }, (_, hour) => piece(hour, 22, 22));

  it('left its usual value where the line crossed its tolerance', () => {
    const found = departureOf(question([...usual, piece(20, 22, 26), piece(21, 26, 26)]));
    expect(found).toMatchObject({ usual: 22, tolerance: 1, farthest: { value: 26 } });
    expect(found?.fromMs).toBe(20.25 * HOUR);
  });

  it('is not known closer than a silence in which it began', () => {
    const silent: Piece = { fromMs: 20 * HOUR, toMs: 22 * HOUR, reason: 'board-silent' };
    const found = departureOf(question([...usual, silent, piece(22, 26, 26)]));
    expect(found).toMatchObject({ fromMs: 20 * HOUR, toMs: 22 * HOUR });
  });

  it('is nothing on an ordinary day', () => {
    expect(departureOf(question([...usual, piece(20, 22, 22.6)]))).toBeUndefined();
  });

  it('leaves open which came first where clocks and silences do not tell them apart', () => {
    const moved = (channelId: string, where: Moved['where'], fromMs: number, toMs: number): Moved => ({
      ...{ channelId, placeId: channelId, where, fromMs, toMs, usual: 22, tolerance: 1 },
      farthest: { atMs: toMs, value: 30 },
    });
    const tank = moved('n1', 'tank', 10 * HOUR, 10 * HOUR);
    const late = firstMoverOf([tank, moved('warm', 'supply', 9 * HOUR, 11 * HOUR)]);
    expect(late).toMatchObject({ first: { channelId: 'warm' }, together: [{ channelId: 'n1' }] });
    expect(late.supplyFirst).toBeUndefined();
    expect(firstMoverOf([tank, moved('warm', 'supply', 9 * HOUR, 9 * HOUR)]).supplyFirst).toBe(true);
  });
});
