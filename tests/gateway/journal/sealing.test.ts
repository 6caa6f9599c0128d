import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Journal } from '../../../gateway/journal/journal.js';
import type { KeptReading } from '../../../gateway/journal/landing.js';
import { openJournal } from '../../../gateway/journal/open.js';
import type { StoredReading } from '../../../gateway/journal/readings.js';
import { retentionOf } from '../../../gateway/journal/retention.js';
import type { DayColumns } from '../../../gateway/journal/sealed/day.js';
import { SEAL_AFTER_MS } from '../../../gateway/journal/sealing.js';
import {
  DRY,
  emptyFolder,
  FAULT_VALUE,
  GOOD,
  HOUR_MS,
  landing,
  openedIn,
  openedJournal,
  reading,
  SPIKE,
  START_MS,
  STUCK,
} from './opened.js';

const DAY_MS = 24 * HOUR_MS;
/** Long after everything in these tests. */
const LATER_MS = START_MS + 30 * DAY_MS;

const stored = (journal: Journal): readonly StoredReading[] =>
  [1, 2].flatMap((sourceId) => journal.readings.between(sourceId, 0, Number.MAX_SAFE_INTEGER));
const hours = (journal: Journal) => {
  while (journal.rollups.computeClosed(LATER_MS, 100) > 0);
  return [1, 2].flatMap((id) => Array.from({ length: 72 }, (_, n) => journal.rollups.hour(id, START_MS / HOUR_MS + n)));
};
const day = (part: (n: number) => Partial<KeptReading> = () => ({}), fromMs = START_MS): readonly KeptReading[] =>
  Array.from({ length: 1_440 }, (_, n) => reading({ deviceMs: fromMs + n * 60_000, ...part(n) }));
const sealedCount = async (journal: Journal, nowMs = LATER_MS): Promise<number> => journal.sealAll(nowMs);

/** Few moments over three days, so that several readings meet at one and some are late. */
const anyReading: fc.Arbitrary<KeptReading> = fc
  .record({
    sourceId: fc.integer({ min: 1, max: 2 }),
    deviceMs: fc.integer({ min: 0, max: 40 }).map((n) => START_MS + n * 6_300_000 + (n % 7)),
    delayMs: fc.integer({ min: -60_000, max: 7 * DAY_MS }),
    raw: fc.double({ noNaN: true, noDefaultInfinity: true }).map((raw) => raw + 0),
    flags: fc.constantFrom(GOOD, SPIKE, DRY, STUCK, FAULT_VALUE),
    refusedMs: fc.option(fc.integer({ min: -1e15, max: 1e15 }), { nil: undefined }),
  })
  .map(({ delayMs, refusedMs, ...one }) => ({
    ...one,
    arrivalMs: one.deviceMs + delayMs,
    ...(refusedMs === undefined ? {} : { refusedMs }),
  }));

describe('sealing', () => {
  test('a day is sealed when it ended two days ago, and not before', async () => {
    const journal = openedJournal();
    journal.land(landing({ readings: day() }));
    expect(await sealedCount(journal, START_MS + DAY_MS + SEAL_AFTER_MS - 1)).toBe(0);
    expect(await sealedCount(journal, START_MS + DAY_MS + SEAL_AFTER_MS)).toBe(1);
    expect(await sealedCount(journal)).toBe(0);
  });

  test('changes no reading, no hour and no count, whenever readings come and verdicts change', async () => {
    const groups = fc.array(fc.array(anyReading, { maxLength: 12 }), { minLength: 1, maxLength: 5 });
    await fc.assert(
      fc.asyncProperty(groups, fc.array(anyReading, { maxLength: 6 }), async (landings, revisions) => {
        const [plain, sealed] = [openedIn(emptyFolder()), openedIn(emptyFolder())];
        for (const journal of [plain, sealed])
          for (const key of ['a', 'b']) journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS });
        for (const readings of landings) {
          expect(sealed.land(landing({ readings, revisions }))).toEqual(plain.land(landing({ readings, revisions })));
          await sealed.sealAll(LATER_MS);
        }
        expect(stored(sealed)).toEqual(stored(plain));
        expect(hours(sealed)).toEqual(hours(plain));
        for (const id of [1, 2]) {
          expect(sealed.readings.newest(id)).toEqual(plain.readings.newest(id));
          expect(sealed.sources.readingCount(id)).toBe(plain.sources.readingCount(id));
        }
        expect([...sealed.readings.since(START_MS + DAY_MS)]).toEqual([...plain.readings.since(START_MS + DAY_MS)]);
        for (const journal of [plain, sealed]) journal.close();
      }),
      { seed: 20260703, numRuns: 25 },
    );
  });

  test('a reading that comes again for a sealed day is known, and another value is kept beside it', async () => {
    const journal = openedJournal();
    journal.land(landing({ readings: day((n) => ({ raw: n % 9 })) }));
    await journal.sealAll(LATER_MS);
    expect(journal.land(landing({ readings: day((n) => ({ raw: n % 9 })).slice(0, 50) }))).toMatchObject({
      repeats: 50,
    });
    const late = [reading({ deviceMs: START_MS, raw: 77 }), reading({ deviceMs: START_MS + 30_000, raw: 78 })];
    expect(journal.land(landing({ readings: late }))).toMatchObject({ variants: 1, repeats: 0 });
    expect(journal.readings.between(1, START_MS, START_MS + 60_000)).toMatchObject([
      { variant: 0, raw: 0 },
      { variant: 1, raw: 77 },
      { variant: 0, raw: 78 },
    ]);
    const before = stored(journal);
    expect(await journal.sealAll(LATER_MS)).toBe(1);
    expect(stored(journal)).toEqual(before);
    expect(journal.land(landing({ readings: late }))).toMatchObject({ repeats: 2 });
  });

  test('the verdict on a sealed reading can still change, and its value cannot', async () => {
    const journal = openedJournal();
    journal.land(landing({ readings: day() }));
    await journal.sealAll(LATER_MS);
    journal.land(landing({ revisions: [{ sourceId: 1, deviceMs: START_MS + 60_000, flags: DRY }] }));
    expect(journal.readings.between(1, START_MS, START_MS + 120_000)).toMatchObject([
      { flags: GOOD },
      { flags: DRY, raw: 18.5 },
    ]);
    expect(hours(journal)[0]).toMatchObject({ usable: 59, outOfWater: 1 });
  });

  test('a landing that fails leaves nothing of itself, sealed or remembered', async () => {
    const journal = openedJournal();
    journal.land(landing({ readings: day() }));
    await journal.sealAll(LATER_MS);
    const before = stored(journal);
    const revise = (deviceMs: number, flags: number) => ({ sourceId: 1, deviceMs, flags });
    const bad = reading({ deviceMs: LATER_MS, raw: Number.NaN });
    expect(() =>
      journal.together(() => {
        journal.land(landing({ revisions: [revise(START_MS, DRY), revise(START_MS + 60_000, DRY)] }));
        journal.land(landing({ readings: [bad] }));
      }),
    ).toThrow();
    expect(stored(journal)).toEqual(before);
    journal.land(landing({ revisions: [revise(START_MS + 60_000, STUCK)] }));
    expect(stored(journal).filter(({ flags }) => flags !== GOOD)).toMatchObject([{ deviceMs: START_MS + 60_000 }]);
  });

  test('a reading that lands while its day is being sealed is not lost, and is sealed the next time', async () => {
    const journal = openedJournal();
    journal.land(landing({ readings: day() }));
    const sealing = journal.sealAll(LATER_MS);
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + 1 })] }));
    journal.land(landing({ revisions: [{ sourceId: 1, deviceMs: START_MS, flags: DRY }] }));
    await sealing;
    expect(stored(journal).slice(0, 2)).toMatchObject([{ flags: DRY }, { deviceMs: START_MS + 1 }]);
    expect(stored(journal)).toHaveLength(1_441);
    expect(await journal.sealAll(LATER_MS)).toBe(0);
  });

  test('a long day is sealed in pieces, none of which holds the landings up', async () => {
    const journal = openedJournal();
    const busy = Array.from({ length: 25_000 }, (_, n) => reading({ deviceMs: START_MS + n * 3_000, raw: n % 31 }));
    journal.importHistory(busy);
    expect(await journal.sealAll(LATER_MS)).toBe(3);
    expect(journal.readings.between(1, START_MS, LATER_MS).map(({ raw }) => raw)).toEqual(busy.map(({ raw }) => raw));
  });

  test('beats seal by themselves, and the rows are gone then', async () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    journal.land(landing({ readings: [...day(), ...day(() => ({ sourceId: 2 }))] }));
    journal.beat(LATER_MS);
    // Waits for the round that the beat began.
    expect(await journal.sealAll(LATER_MS)).toBe(0);
    expect(stored(journal)).toHaveLength(2_880);
    expect(journal.sealFailures()).toEqual([]);
    journal.close();
    const again = openedIn(folder);
    expect(stored(again)).toHaveLength(2_880);
    expect(again.land(landing({ readings: day().slice(0, 5) }))).toMatchObject({ repeats: 5 });
    again.close();
  });
});

describe('days that are kept sealed at once', () => {
  const columns = (fromMs: number, sourceRaw: number): DayColumns => {
    const column = (value: (n: number) => number) => Float64Array.from({ length: 1_440 }, (_, n) => value(n));
    return {
      deviceMs: column((n) => fromMs + n * 60_000),
      variant: column(() => 0),
      delayMs: column(() => 20),
      raw: column((n) => sourceRaw + (n % 5)),
      flags: column((n) => (n % 100 === 0 ? DRY : GOOD)),
      refusedMs: column(() => Number.NaN),
    };
  };

  test('are the same as landed ones that were sealed later, hours and all', async () => {
    const [landed, atOnce] = [openedJournal(), openedJournal()];
    for (const sourceId of [1, 2]) {
      const readings = day((n) => ({ sourceId, raw: sourceId + (n % 5), flags: n % 100 === 0 ? DRY : GOOD }));
      landed.land(landing({ readings }));
    }
    await landed.sealAll(LATER_MS);
    expect(atOnce.sealHistory([1, 2].map((sourceId) => ({ sourceId, columns: columns(START_MS, sourceId) })))).toBe(
      2_880,
    );
    expect(stored(atOnce)).toEqual(stored(landed));
    expect(hours(atOnce)).toEqual(hours(landed));
    expect(atOnce.land(landing({ readings: day(() => ({ raw: 1 })).slice(0, 1) }))).toMatchObject({ repeats: 1 });
  });

  test('are refused where something is there already, out of order, or of two days', () => {
    const journal = openedJournal();
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + 5 })] }));
    const keep = (all: DayColumns) => () => journal.sealHistory([{ sourceId: 1, columns: all }]);
    expect(keep(columns(START_MS, 1))).toThrow('some of it is there already');
    expect(keep(columns(START_MS + DAY_MS + HOUR_MS, 1))).toThrow('not of one day');
    const backwards = columns(START_MS + DAY_MS, 1);
    expect(keep({ ...backwards, deviceMs: backwards.deviceMs.toReversed() })).toThrow('not in order');
  });
});

describe('what is too old', () => {
  const openedWith = (retention: { rawDays: number | undefined; hourDays: number | undefined }): Journal => {
    const opened = openJournal(emptyFolder(), { durability: 'second', retention });
    if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
    return opened.value;
  };
  const withTwoDays = async (journal: Journal): Promise<void> => {
    journal.importHistory([...day(), ...day(() => ({}), START_MS + DAY_MS)]);
    await journal.sealAll(LATER_MS);
    hours(journal);
  };
  const nowMs = START_MS + 11.5 * DAY_MS;

  test('goes reading by reading, and its hours stay', async () => {
    const journal = openedWith({ rawDays: 10, hourDays: undefined });
    await withTwoDays(journal);
    const before = hours(journal);
    journal.beat(nowMs);
    expect(stored(journal).map(({ deviceMs }) => deviceMs)[0]).toBe(START_MS + DAY_MS);
    expect(hours(journal)).toEqual(before);
    expect(journal.sources.readingCount(1)).toBe(2_880);
    journal.close();
  });

  test('is not made less by a straggler: an hour of which the readings are gone stays as it was', async () => {
    const journal = openedWith({ rawDays: 10, hourDays: undefined });
    await withTwoDays(journal);
    journal.beat(nowMs);
    journal.importHistory([reading({ deviceMs: START_MS + 1 })]);
    expect(hours(journal)[0]).toMatchObject({ usable: 60 });
    journal.close();
  });

  test('goes hour by hour only where somebody wants it so', async () => {
    const journal = openedWith({ rawDays: undefined, hourDays: 10 });
    await withTwoDays(journal);
    for (let n = 0; n < 5; n += 1) journal.beat(nowMs);
    expect(
      hours(journal)
        .slice(0, 48)
        .map((hour) => hour !== undefined),
    ).toEqual(Array.from({ length: 48 }, (_, n) => n >= 24));
    expect(stored(journal)).toHaveLength(2_880);
    journal.close();
  });

  test('is as the site wants it, from the moment at which somebody says so', async () => {
    const journal = openedWith({ rawDays: undefined, hourDays: undefined });
    await withTwoDays(journal);
    journal.beat(nowMs);
    expect(stored(journal)).toHaveLength(2_880);
    const site = { id: 's', name: 'S', zone: 'UTC', temperatureUnit: 'C', hours: 24 } as const;
    journal.retain(retentionOf({ ...site, keepReadingsDays: 10 }));
    journal.beat(nowMs);
    expect(stored(journal)[0]?.deviceMs).toBe(START_MS + DAY_MS);
    journal.close();
  });
});
