import { describe, expect, it } from 'vitest';
import { isBalanced, lotsIn } from '../../rules/log/book.js';
import { parseEntry } from '../../rules/log/entry.js';
import { papersFor } from '../../rules/log/inspector.js';
import { EMPTY_RECORD, type LogRecord, recordWith } from '../../rules/log/record.js';
import { earlierStays, stageStays, stayAt } from '../../rules/log/stage-stay.js';
import { stockSteps } from '../../rules/log/stock.js';
import { demoLog } from '../../simulator/world/demo-log.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';
import { describedPlaces } from '../../simulator/world/settings.js';

const NOW = Date.UTC(2026, 5, 17, 5, 40);
const DAY = 86_400_000;
const hatchery = saltmarshLane(7);

/** Each entry held against the record before it, as the gateway would. */
const kept = (nowMs: number): { readonly record: LogRecord; readonly refused: readonly string[] } => {
  const places = describedPlaces(hatchery, nowMs);
  const refused: string[] = [];
  let record = EMPTY_RECORD;
  for (const entry of demoLog(hatchery, nowMs).entries) {
    const parsed = parseEntry(withoutBy(entry), entry.by);
    const done = parsed.ok ? recordWith(record, parsed.value, { places, recordedMs: entry.atMs }) : parsed;
    if (done.ok && 'record' in done.value) record = done.value.record;
    else if (!done.ok) refused.push(`${entry.kind} ${entry.placeId}: ${JSON.stringify(done.fault)}`);
  }
  return { record, refused };
};
const withoutBy = ({ by: _, ...entry }: { readonly by: string }): object => entry;

describe('the log of the invented hatchery', () => {
  const { record, refused } = kept(NOW);

  it('is one that the rules would keep, entry by entry, at whatever hour the demo starts', () => {
    expect(refused).toEqual([]);
    for (const hour of [0.2, 9.2, 12.8, 18, 23.9])
      expect(kept(NOW - (NOW % DAY) + hour * 3_600_000).refused).toEqual([]);
    // Tanks are drained every other day: some batch is looked at the day after it came where another was.
    for (const days of [1, 2, 3]) expect(kept(NOW + days * DAY).refused).toEqual([]);
  });

  it('accounts for every animal, and leaves in each tank the batch that its settings name', () => {
    expect([...stockSteps(record.ruling.entries)].every(({ book }) => isBalanced(book))).toBe(true);
    for (const { id, batch, stage, stageSinceMs } of describedPlaces(hatchery, NOW)) {
      if (batch === undefined) continue;
      const [lot] = lotsIn(record.stock.book, id);
      expect([id, lot?.batchId, lot?.stage, lot?.stageSinceMs]).toEqual([id, batch, stage, stageSinceMs]);
    }
  });

  it('has two weeks of every common kind of work, and nothing of the future', () => {
    const lately = record.ruling.entries.filter(({ atMs }) => atMs > NOW - 14 * DAY);
    const kinds = new Set(lately.map(({ kind }) => kind));
    for (const kind of ['drain-down', 'feeding', 'work', 'work-end', 'round', 'culture', 'filter', 'uv-hours'] as const)
      expect(kinds, kind).toContain(kind);
    for (const kind of [
      'run-plan',
      'eggs-stocked',
      'deaths',
      'dump',
      'sale',
      'sample',
      'water-change',
      'cleaning',
    ] as const)
      expect(kinds, kind).toContain(kind);
    expect(record.ruling.entries.every(({ atMs }) => atMs < NOW)).toBe(true);
    expect(record.work.filter(({ endedMs }) => endedMs === undefined)).toEqual([]);
  });

  it('has a spawning run, papers without a gap, and an earlier batch to compare larvae with', () => {
    const ended = record.ruling.entries.filter(({ kind }) => kind === 'run-end');
    expect(ended).toHaveLength(1);
    const papers = papersFor(record.ruling.entries, record.stock, { fromMs: NOW - 366 * DAY, toMs: NOW });
    expect(papers.broughtIn).toHaveLength(5);
    expect(papers.sold).toHaveLength(1);
    expect(papers.lacking).toEqual([]);
    // Daily counts of larvae are one line a batch, not one each.
    expect(papers.counted.length).toBeLessThanOrEqual(papers.batches.length);
    expect(papers.counted.some(({ counts }) => counts > 3)).toBe(true);
    const stays = stageStays(record.ruling.entries);
    const here = stayAt(stays, 'l3', NOW);
    expect(here).toMatchObject({ batchId: 'F-4', stage: 'larva' });
    expect(here === undefined ? 0 : earlierStays(stays, here).length).toBeGreaterThan(3);
  });
});
