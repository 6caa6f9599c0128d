import { describe, expect, test } from 'vitest';
import { ageDays, batchStory, nextStage, tracedPlaces } from '../../../rules/log/batch.js';
import { lotOf } from '../../../rules/log/book.js';
import { declaredWork, openWork } from '../../../rules/log/declared.js';
import { lastDone } from '../../../rules/log/done.js';
import { papersFor } from '../../../rules/log/inspector.js';
import { lastSeen, onSite, overdueWork } from '../../../rules/log/round.js';
import { replayStock } from '../../../rules/log/stock.js';
import { entryWords, type LogReader } from '../../../rules/words/entry.js';
import { hatchery, NOON_MS, tank } from '../../support/hatchery.js';
import { begun, diary } from './diary.js';

const HOUR = 3_600_000;
const reader: LogReader = { zone: 'UTC', hours: 24, temperatureUnit: 'C', placeName: (id) => id.toUpperCase() };

describe('declared work', () => {
  test('counts down from its entry, may be made longer, and is over when somebody says so', () => {
    const { entries, write } = diary();
    const work = write('work', 'l1', { work: 'drain-down', minutes: 45 });
    expect(declaredWork(entries)).toMatchObject([{ id: work.id, kind: 'drain-down', untilMs: NOON_MS + 45 * 60_000 }]);
    write('work-longer', undefined, { workId: work.id, untilMs: NOON_MS + HOUR });
    expect(openWork(declaredWork(entries))).toMatchObject([{ untilMs: NOON_MS + HOUR }]);
    write('work-end', undefined, { workId: work.id });
    expect(openWork(declaredWork(entries))).toEqual([]);
  });

  test('of a drain-down is over with its sheet', () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 10));
    write('work', 'l1', { work: 'drain-down', minutes: 45 });
    write('drain-down', 'l1', { end: 'back-in' });
    expect(openWork(declaredWork(entries))).toEqual([]);
  });

  test('of a spawning run lasts until its latest end, and knows how warm it is meant to be', () => {
    const { entries, write } = diary();
    const plan = { animals: 40, ambientC: 21, coolC: 16, riseC: 5.6, holdMin: 30, cycles: 3, ceilingC: 30 };
    write('run-plan', 's1', { ...plan, latestEndMs: NOON_MS + 4 * HOUR });
    expect(declaredWork(entries)).toMatchObject([
      { kind: 'spawning-run', untilMs: NOON_MS + 4 * HOUR, run: { peakC: 26.6 } },
    ]);
  });
});

describe('a round', () => {
  const tanks = [tank('l1'), tank('l2')];

  test('starts from what is overdue: larvae whose water was not changed for a day', () => {
    const { entries, write } = diary();
    write('water-change', 'l1', { sharePct: 100 });
    const late = NOON_MS + 25 * HOUR;
    expect(overdueWork(tanks, lastDone(entries), late)[0]).toMatchObject({ placeId: 'l2', task: 'water-change' });
    expect(overdueWork(tanks, lastDone(entries), NOON_MS + HOUR).map(({ placeId }) => placeId)).toEqual(['l2']);
    expect(overdueWork([tank('l1', { stage: 'empty' })], lastDone([]), late)).toEqual([]);
  });

  test('marks everything as seen except what it leaves out, and its writer as on site', () => {
    const { entries, write } = diary();
    write('round', undefined, { which: 'morning', except: [{ placeId: 'l2' }] }, { initials: 'TM' });
    const { places } = hatchery(tanks);
    expect(lastSeen(places, entries).has('l1')).toBe(true);
    expect(lastSeen(places, entries).has('l2')).toBe(false);
    expect(onSite(entries, NOON_MS + HOUR).map(({ who }) => who)).toEqual(['TM']);
    expect(onSite(entries, NOON_MS + 13 * HOUR)).toEqual([]);
    write('on-site', undefined, { here: false }, { initials: 'TM' });
    expect(onSite(entries, NOON_MS + HOUR)).toEqual([]);
  });
});

describe('a batch', () => {
  const { entries, write } = diary();
  write('brought-in', 'l1', { ...begun('M1', 1000), permit: 'WC-114' });
  write('drain-down', 'l1', {
    end: 'split',
    to: [
      { placeId: 'l1', animals: 400 },
      { placeId: 'l2', animals: 500 },
    ],
  });
  write('sale', 'l2', { animals: 500, to: 'a grower' });
  write('deaths', 'l1', { animals: 12, signs: 'gaping' });
  write('treatment', 'l1', { product: 'rinse', amount: '20 L', why: 'ciliates' });
  const stock = replayStock(entries);

  test('is traced through its tanks, with origin, permits and age', () => {
    const story = batchStory('M1', stock);
    if (story === undefined) throw new Error('no story');
    expect(story).toMatchObject({ origin: 'Wrack Cove wild bed', permits: ['WC-114'], beganMs: NOON_MS });
    expect(tracedPlaces(story)).toEqual(['l1', 'l2']);
    expect(story.stays).toEqual([
      { placeId: 'l1', fromMs: NOON_MS },
      { placeId: 'l2', fromMs: NOON_MS + 60_000, toMs: NOON_MS + 120_000 },
    ]);
    expect(ageDays(story.beganMs, NOON_MS + 49 * HOUR)).toBe(2);
  });

  test('expects its next stage from the profile, and says how sure that is', () => {
    const lot = lotOf(stock.book, 'l1', 'M1');
    // Larvae of the general clam: 6 days by common practice, 28 by analogy.
    expect(lot && nextStage(lot)).toEqual({
      stage: 'setting',
      fromMs: NOON_MS + 6 * 24 * HOUR,
      toMs: NOON_MS + 28 * 24 * HOUR,
      standing: 'mixed',
    });
  });

  test('goes on the papers for an inspector, with what is lacking', () => {
    const papers = papersFor(entries, stock, { fromMs: NOON_MS - HOUR, toMs: NOON_MS + HOUR });
    expect(papers.batches.map(({ id }) => id)).toEqual(['M1']);
    expect(papers).toMatchObject({ broughtIn: [{}], sold: [{}], moved: [{}], deaths: [{}], treatments: [{}] });
    expect(papers.lacking).toMatchObject([{ code: 'no-permit-out' }]);
    // 900 of 1,000 came out of the sheet: one line for the batch, however often it is counted.
    expect(papers.counted).toEqual([{ batchId: 'M1', counts: 0, fewer: 100, more: 0, sheetDead: 0, sheetCulled: 0 }]);
  });

  test('is told in one line an entry', () => {
    const [came, sheet, sold] = entries;
    if (came === undefined || sheet === undefined || sold === undefined) throw new Error('no entries');
    expect(entryWords(came, reader)).toBe('1,000 larvae as M1 from Wrack Cove wild bed, permit WC-114');
    expect(entryWords(sheet, reader)).toBe('400 to L1, 500 to L2');
    expect(entryWords(sold, reader)).toBe('500 to a grower');
  });
});
