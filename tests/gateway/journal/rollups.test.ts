import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { hourFrom } from '../../../gateway/journal/hour.js';
import type { Journal } from '../../../gateway/journal/journal.js';
import type { KeptReading } from '../../../gateway/journal/landing.js';
import { buildUseOfFlags } from '../../../gateway/journal/use.js';
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

const useOfFlags = buildUseOfFlags();
const HOUR = START_MS / HOUR_MS;

const rowsOf = (journal: Journal) =>
  [1, 2].flatMap((sourceId) => journal.readings.between(sourceId, 0, Number.MAX_SAFE_INTEGER));
const hoursOf = (journal: Journal) => [1, 2].flatMap((id) => [0, 1, 2].map((n) => journal.rollups.hour(id, HOUR + n)));
const recomputed = (journal: Journal) =>
  [1, 2].flatMap((id) =>
    [0, 1, 2].map((n) => {
      const rows = journal.readings.between(id, START_MS + n * HOUR_MS, START_MS + (n + 1) * HOUR_MS);
      return hourFrom(rows.map((row) => ({ ...row, use: useOfFlags(row.flags) })));
    }),
  );
const computeAll = (journal: Journal): void => {
  while (journal.rollups.computeClosed(START_MS + 10 * HOUR_MS, 3) > 0);
};

/** Few moments, so that several readings meet at one. */
const anyReading: fc.Arbitrary<KeptReading> = fc.record({
  sourceId: fc.integer({ min: 1, max: 2 }),
  deviceMs: fc.integer({ min: 0, max: 17 }).map((n) => START_MS + n * 600_000),
  arrivalMs: fc.constant(START_MS + 3 * HOUR_MS),
  raw: fc.double({ min: -50, max: 50, noNaN: true }).map((raw) => raw + 0),
  flags: fc.constantFrom(GOOD, SPIKE, DRY, STUCK, FAULT_VALUE),
});
const oneAMoment = fc.uniqueArray(anyReading, {
  selector: ({ sourceId, deviceMs }) => `${sourceId} ${deviceMs}`,
  maxLength: 36,
});

describe('an hour', () => {
  test('counts what is not water by its reason and keeps it out of least, greatest and sum', () => {
    const journal = openedJournal();
    const parts: readonly (readonly [number, number])[] = [
      [20, GOOD],
      [30, SPIKE],
      [99, DRY],
      [-40, STUCK],
      [85, FAULT_VALUE],
    ];
    journal.land(
      landing({ readings: parts.map(([raw, flags], n) => reading({ deviceMs: START_MS + n * 60_000, raw, flags })) }),
    );
    computeAll(journal);
    expect(journal.rollups.hour(1, HOUR)).toEqual({
      usable: 2,
      outOfWater: 1,
      notPlausible: 1,
      faultValue: 1,
      sum: 50,
      least: 20,
      greatest: 30,
      firstMs: START_MS,
      lastMs: START_MS + 240_000,
    });
  });

  test('without water has no least and no greatest, rather than zero', () => {
    const journal = openedJournal();
    journal.land(landing({ readings: [reading({ deviceMs: START_MS, flags: DRY })] }));
    computeAll(journal);
    expect(journal.rollups.hour(1, HOUR)).toMatchObject({
      usable: 0,
      outOfWater: 1,
      sum: 0,
      least: null,
      greatest: null,
    });
  });

  test('is not computed before it has ended', () => {
    const journal = openedJournal();
    journal.land(landing({ readings: [reading({ deviceMs: START_MS })] }));
    expect(journal.rollups.computeClosed(START_MS + HOUR_MS - 1, 10)).toBe(0);
    expect(journal.rollups.computeClosed(START_MS + HOUR_MS, 10)).toBe(1);
  });

  test('that was marked before a restart is still marked after it', () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    journal.land(landing({ readings: [reading({ deviceMs: START_MS })] }));
    journal.close();
    const again = openedIn(folder);
    expect(again.rollups.isMarked(1, HOUR)).toBe(true);
    computeAll(again);
    expect(again.rollups.hour(1, HOUR)?.usable).toBe(1);
    again.close();
  });
});

describe('for any readings', () => {
  test('every hour equals its computation from the rows, also after late readings and changed verdicts', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(anyReading, { maxLength: 12 }), { maxLength: 6 }),
        fc.array(anyReading, { maxLength: 8 }),
        (groups, revised) => {
          const journal = openedIn(emptyFolder());
          for (const readings of groups) {
            journal.land(landing({ readings, revisions: revised.slice(0, readings.length) }));
            computeAll(journal);
          }
          journal.land(landing({ revisions: revised }));
          computeAll(journal);
          expect(hoursOf(journal)).toEqual(recomputed(journal));
          journal.close();
        },
      ),
      { seed: 20260601, numRuns: 30 },
    );
  });

  test('the order in which readings land makes no difference to rows and hours', () => {
    const shuffled = oneAMoment.chain((readings) =>
      fc.tuple(fc.constant(readings), fc.shuffledSubarray(readings, { minLength: readings.length })),
    );
    fc.assert(
      fc.property(shuffled, fc.integer({ min: 1, max: 9 }), ([readings, other], size) => {
        const [one, two] = [openedIn(emptyFolder()), openedIn(emptyFolder())];
        one.land(landing({ readings }));
        for (let n = 0; n < other.length; n += size) {
          two.land(landing({ readings: other.slice(n, n + size) }));
          computeAll(two);
        }
        computeAll(one);
        expect(rowsOf(two)).toEqual(rowsOf(one));
        expect(hoursOf(two)).toEqual(hoursOf(one));
        one.close();
        two.close();
      }),
      { seed: 20260602, numRuns: 30 },
    );
  });

  test('landing them twice changes neither rows nor hours', () => {
    fc.assert(
      fc.property(fc.array(anyReading, { maxLength: 40 }), (readings) => {
        const journal = openedIn(emptyFolder());
        journal.land(landing({ readings }));
        computeAll(journal);
        const [rows, hours] = [rowsOf(journal), hoursOf(journal)];
        expect(journal.land(landing({ readings }))).toMatchObject({ repeats: readings.length, variants: 0 });
        computeAll(journal);
        expect([rowsOf(journal), hoursOf(journal)]).toEqual([rows, hours]);
        journal.close();
      }),
      { seed: 20260603, numRuns: 30 },
    );
  });

  test('importing history gives the same rows and hours as landing it', () => {
    fc.assert(
      fc.property(fc.array(anyReading, { maxLength: 60 }), (readings) => {
        const [landed, imported] = [openedIn(emptyFolder()), openedIn(emptyFolder())];
        landed.land(landing({ readings }));
        const count = imported.importHistory(readings);
        expect(count.kept + count.variants + count.repeats).toBe(readings.length);
        for (const journal of [landed, imported]) computeAll(journal);
        expect(rowsOf(imported)).toEqual(rowsOf(landed));
        expect(hoursOf(imported)).toEqual(hoursOf(landed));
        expect([...imported.tailSince(undefined)]).toEqual([]);
        landed.close();
        imported.close();
      }),
      { seed: 20260604, numRuns: 30 },
    );
  });
});
