import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { History, HistoryRow } from '../../gateway/history/history.js';
import { buildRowsSum, summedRow } from '../../gateway/history/rows-sum.js';
import type { Journal } from '../../gateway/journal/journal.js';
import type { KeptReading } from '../../gateway/journal/landing.js';
import { oxygenSaturationPct } from '../../rules/seawater/oxygen.js';
import { practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import { DRY, FAULT_VALUE, GOOD, HOUR_MS, reading, SPIKE, START_MS, STUCK } from '../gateway/journal/opened.js';

/** A history with the journal beside it that holds the settings, and perhaps the readings too. */
export type HistoryWorld = {
  readonly journal: Journal;
  readonly history: History;
  /** Returns when the history answers with them. */
  keep(readings: readonly KeptReading[]): Promise<void>;
  /** Computes the hours that have ended. */
  settle(): Promise<void>;
  /** The hand-turned clock that the history reads. */
  readonly clock: { nowMs: number };
};

const MINUTE_MS = 60_000;
const PERIOD_MS = 10_000;

const named = (world: HistoryWorld, channelId: string, unit: string, fromMs = 0, key = channelId): number => {
  const { id: sourceId } = world.journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS });
  world.journal.mappings.name({ sourceId, channelId, unit, fromMs, ruling: true }, 'Inês', START_MS);
  return sourceId;
};

/** A reading each ten seconds from `fromMs` up to, not including, `toMs`. */
const steady = (fromMs: number, toMs: number, part: (n: number) => Partial<KeptReading> = () => ({})): KeptReading[] =>
  Array.from({ length: Math.ceil((toMs - fromMs) / PERIOD_MS) }, (_, n) =>
    reading({ deviceMs: fromMs + n * PERIOD_MS, ...part(n) }),
  );

const allRows = async (pages: AsyncIterable<readonly HistoryRow[]>): Promise<readonly HistoryRow[]> => {
  const rows: HistoryRow[] = [];
  for await (const page of pages) rows.push(...page);
  return rows;
};

/** The suite that every history passes; `open` gives a fresh one that is closed when the test ends. */
export const historyContract = (name: string, open: () => Promise<HistoryWorld>): void => {
  describe(`${name}: readings`, () => {
    test('few enough readings come as they are, with the start of the span and without its end', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep(steady(START_MS, START_MS + 40_000, (n) => ({ raw: 18 + n })));
      const answer = await world.history.readings('l2.temperature', START_MS, START_MS + 30_000, 3);
      expect(answer).toEqual({
        channelId: 'l2.temperature',
        quantity: 'temperature',
        unit: 'degC',
        fromMs: START_MS,
        toMs: START_MS + 30_000,
        bucketMs: 0,
        atMs: [START_MS, START_MS + 10_000, START_MS + 20_000],
        min: [18, 19, 20],
        mean: [18, 19, 20],
        max: [18, 19, 20],
        usable: [1, 1, 1],
        gaps: [],
      });
    });

    test('more come in buckets that begin where a clock would have them, and a single high reading stays the maximum', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep(steady(START_MS, START_MS + HOUR_MS, (n) => ({ raw: n === 100 ? 31 : 18 })));
      const answer = await world.history.readings('l2.temperature', START_MS, START_MS + HOUR_MS, 12);
      expect(answer.bucketMs).toBe(5 * MINUTE_MS);
      expect(answer.atMs).toEqual(Array.from({ length: 12 }, (_, n) => START_MS + n * 5 * MINUTE_MS));
      expect(answer.max).toEqual(answer.atMs.map((_, n) => (n === 3 ? 31 : 18)));
      expect(answer.min).toEqual(answer.atMs.map(() => 18));
      expect(answer.mean[3]).toBeCloseTo(18 + 13 / 30, 12);
    });

    test('what is not water is counted in the usable share and nowhere else', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      const flags = [GOOD, SPIKE, DRY, STUCK, FAULT_VALUE];
      await world.keep(steady(START_MS, START_MS + 50_000, (n) => ({ raw: n * 100, flags: flags[n] ?? GOOD })));
      for (const points of [5, 1]) {
        const answer = await world.history.readings('l2.temperature', START_MS, START_MS + 50_000, points);
        if (points === 1)
          expect([answer.min, answer.mean, answer.max, answer.usable]).toEqual([[0], [50], [100], [0.4]]);
        else
          expect([answer.mean, answer.usable]).toEqual([
            [0, 100, null, null, null],
            [1, 1, 0, 0, 0],
          ]);
      }
    });

    test('a bucket without a usable reading is empty, and one without a reading is left out', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([
        ...steady(START_MS, START_MS + 10 * MINUTE_MS, () => ({ flags: DRY })),
        ...steady(START_MS + 20 * MINUTE_MS, START_MS + 30 * MINUTE_MS),
      ]);
      const answer = await world.history.readings('l2.temperature', START_MS, START_MS + 30 * MINUTE_MS, 3);
      expect([answer.atMs, answer.mean, answer.usable]).toEqual([
        [START_MS, START_MS + 20 * MINUTE_MS],
        [null, 18.5],
        [0, 1],
      ]);
    });

    test('a second value at one millisecond is a reading too', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([reading({ deviceMs: START_MS, raw: 18 }), reading({ deviceMs: START_MS, raw: 20 })]);
      expect(await world.history.readings('l2.temperature', START_MS, START_MS + 10, 5)).toMatchObject({
        mean: [18, 20],
      });
    });

    test('hours that were computed before give the same answer as their readings', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degF');
      world.journal.calibrations.add({ sourceId: 1, fromMs: 0, slope: -0.5, offset: 3 }, 'Inês', START_MS);
      const endMs = START_MS + 6 * HOUR_MS;
      await world.keep(
        steady(START_MS, endMs, (n) => ({ raw: 60 + ((n * 7919) % 13), flags: n % 11 === 0 ? STUCK : GOOD })),
      );
      const ask = () => world.history.readings('l2.temperature', START_MS + 25 * MINUTE_MS, endMs - 20 * MINUTE_MS, 6);
      const fromReadings = await ask();
      await world.settle();
      const fromHours = await ask();
      expect(fromHours.bucketMs).toBe(HOUR_MS);
      expect(fromHours.atMs[0]).toBe(START_MS + 25 * MINUTE_MS);
      expect({ ...fromHours, mean: [] }).toEqual({ ...fromReadings, mean: [] });
      for (const [n, mean] of fromHours.mean.entries())
        expect(mean).toBeCloseTo(fromReadings.mean[n] ?? Number.NaN, 10);
    });
  });

  describe(`${name}: meaning`, () => {
    test('units are converted and the calibration of the time applied, on reading', async () => {
      const world = await open();
      const sourceId = named(world, 'l2.temperature', 'degF');
      await world.keep(steady(START_MS, START_MS + 30_000, () => ({ raw: 68 })));
      world.journal.calibrations.add({ sourceId, fromMs: START_MS + 10_000, slope: 2, offset: 0.5 }, 'Inês', START_MS);
      world.journal.calibrations.add({ sourceId, fromMs: START_MS + 20_000, slope: 1, offset: -1 }, 'Inês', START_MS);
      const { mean } = await world.history.readings('l2.temperature', START_MS, START_MS + 30_000, 10);
      expect(mean.map((value) => Math.round((value ?? 0) * 1e9) / 1e9)).toEqual([20, 40.5, 19]);
    });

    test('an hour with a calibration in the middle is right in both halves', async () => {
      const world = await open();
      const sourceId = named(world, 'l2.temperature', 'degC');
      await world.keep(steady(START_MS, START_MS + 3 * HOUR_MS, () => ({ raw: 18 })));
      await world.settle();
      const edgeMs = START_MS + 1.5 * HOUR_MS;
      world.journal.calibrations.add({ sourceId, fromMs: edgeMs, slope: 1, offset: 1 }, 'Inês', START_MS);
      const answer = await world.history.readings('l2.temperature', START_MS, START_MS + 3 * HOUR_MS, 3);
      expect([answer.min, answer.mean, answer.max]).toEqual([
        [18, 18, 19],
        [18, 18.5, 19],
        [18, 19, 19],
      ]);
    });

    test('a channel is read from whichever source ruled then, companions left out', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC', 0, 'old');
      named(world, 'l2.temperature', 'K', START_MS + 20_000, 'new');
      const { id } = world.journal.sources.ensure({ key: 'sister', topic: 'sister', firstSeenMs: START_MS });
      world.journal.mappings.name(
        { sourceId: id, channelId: 'l2.temperature', unit: 'degC', fromMs: 0, ruling: false },
        'Inês',
        START_MS,
      );
      await world.keep(
        [1, 2, 3].flatMap((source) =>
          steady(START_MS, START_MS + 40_000, () => ({ sourceId: source, raw: source * 100 })),
        ),
      );
      const { mean } = await world.history.readings('l2.temperature', START_MS, START_MS + 40_000, 10);
      expect(mean.map((value) => Math.round((value ?? 0) * 100) / 100)).toEqual([100, 100, -73.15, -73.15]);
    });

    test('an unknown channel has no source, and no readings', async () => {
      const world = await open();
      const answer = await world.history.readings('l9.ph', START_MS, START_MS + HOUR_MS, 10);
      expect(answer).toMatchObject({
        atMs: [],
        quantity: 'ph',
        gaps: [{ fromMs: START_MS, toMs: START_MS + HOUR_MS, reason: 'no-source' }],
      });
    });

    test('history that came before the naming is there once the source is named', async () => {
      const world = await open();
      world.journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
      await world.keep(steady(START_MS, START_MS + 30_000));
      named(world, 'l2.temperature', 'degC', START_MS, 'k');
      expect((await world.history.readings('l2.temperature', START_MS, START_MS + HOUR_MS, 9)).atMs).toHaveLength(3);
    });
  });

  describe(`${name}: gaps`, () => {
    const ask = (world: HistoryWorld, minutes: number, points = 1_000) =>
      world.history.readings('l2.temperature', START_MS, START_MS + minutes * MINUTE_MS, points);
    const at = (minutes: number): number => START_MS + minutes * MINUTE_MS;
    const inMinutes = ({ gaps }: Awaited<ReturnType<typeof ask>>) =>
      gaps.map(({ fromMs, toMs, reason }) => [(fromMs - START_MS) / MINUTE_MS, (toMs - START_MS) / MINUTE_MS, reason]);

    test('a silence of more than a minute is a gap, one of a minute is not', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([
        ...steady(at(0), at(5) + 1),
        reading({ deviceMs: at(6) }),
        reading({ deviceMs: at(7) + 1 }),
        ...steady(at(7) + 10_000, at(9)),
      ]);
      const { gaps } = await world.history.readings('l2.temperature', at(0), at(9), 100);
      expect(gaps).toEqual([{ fromMs: at(6), toMs: at(7) + 1, reason: 'board-silent' }]);
    });

    test('a slow board is silent only after three of its periods', async () => {
      const world = await open();
      const { id: sourceId } = world.journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
      const channelId = 'l2.temperature';
      world.journal.mappings.name(
        { sourceId, channelId, unit: 'degC', fromMs: 0, ruling: true, periodMs: 5 * MINUTE_MS },
        'Inês',
        START_MS,
      );
      await world.keep([0, 5, 20, 36, 40].map((minutes) => reading({ deviceMs: at(minutes) })));
      expect(inMinutes(await ask(world, 45))).toEqual([[20, 36, 'board-silent']]);
    });

    test('a slow board that nobody told us about is known by its spacing', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([0, 5, 10, 15, 20, 30, 50, 55].map((minutes) => reading({ deviceMs: at(minutes) })));
      expect(inMinutes(await ask(world, 58))).toEqual([[30, 50, 'board-silent']]);
    });

    test('a board that was made to send more often was not silent before', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      const slow = Array.from({ length: 20 }, (_, n) => reading({ deviceMs: at(n * 2) }));
      await world.keep([...slow, ...steady(at(40), at(60)), ...steady(at(66), at(70))]);
      expect(inMinutes(await ask(world, 70))).toEqual([[60 - PERIOD_MS / MINUTE_MS, 66, 'board-silent']]);
    });

    test('a gap says whose silence it was, part by part', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      world.journal.runs.start(at(0));
      world.journal.runs.keepLink({ broker: 'up', atMs: at(0) });
      world.journal.beat(at(30));
      world.journal.runs.start(at(50));
      world.journal.runs.keepLink({ broker: 'down', atMs: at(40) });
      world.journal.runs.keepLink({ broker: 'up', atMs: at(65) });
      await world.keep([...steady(at(0), at(10)), ...steady(at(80), at(90))]);
      const silentMs = 10 - PERIOD_MS / MINUTE_MS;
      expect(inMinutes(await ask(world, 90))).toEqual([
        [silentMs, 30, 'board-silent'],
        [30, 50, 'gateway-down'],
        [50, 65, 'broker-down'],
        [65, 80, 'board-silent'],
      ]);
    });

    test('before the first source there was none', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC', at(20));
      await world.keep(steady(at(0), at(40)));
      expect(inMinutes(await ask(world, 40))).toEqual([[0, 20, 'no-source']]);
    });

    test('out of the water and not plausible are gaps of their own, from the first such reading to the next good one', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      const flags = (n: number): number => (n >= 60 && n < 90 ? DRY : n >= 120 && n < 150 ? STUCK : GOOD);
      await world.keep(steady(at(0), at(30), (n) => ({ flags: flags(n) })));
      expect(inMinutes(await ask(world, 30))).toEqual([
        [10, 15, 'out-of-water'],
        [20, 25, 'not-plausible'],
      ]);
      expect(inMinutes(await ask(world, 30, 6))).toEqual([
        [10, 15, 'out-of-water'],
        [20, 25, 'not-plausible'],
      ]);
    });

    test('the time that is still to come is no silence, and what has come since the last reading is', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep(steady(at(0), at(10)));
      world.clock.nowMs = at(10) + 30_000;
      expect(inMinutes(await ask(world, 60))).toEqual([]);
      world.clock.nowMs = at(14);
      expect(inMinutes(await ask(world, 60))).toEqual([[10 - PERIOD_MS / MINUTE_MS, 14, 'board-silent']]);
    });

    test('a short silence over the edge of the span is no gap, a long one is cut at it', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([...steady(at(0), at(10)), ...steady(at(20), at(30))]);
      const gapsIn = async (from: number, to: number) =>
        (await world.history.readings('l2.temperature', at(from), at(to), 500)).gaps.map(({ fromMs, toMs }) => [
          fromMs,
          toMs,
        ]);
      expect(await gapsIn(5, 9)).toEqual([]);
      expect(await gapsIn(12, 14)).toEqual([[at(12), at(14)]]);
      expect(await gapsIn(15, 25)).toEqual([[at(15), at(20)]]);
      expect(await gapsIn(5, 15)).toEqual([[at(10) - PERIOD_MS, at(15)]]);
    });

    test('the same gaps of hours are found in whole hours', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep([
        ...steady(at(0), at(125)),
        ...steady(at(300), at(420), () => ({ flags: DRY })),
        ...steady(at(420), at(600)),
      ]);
      await world.settle();
      const answer = await ask(world, 600, 10);
      expect(answer.bucketMs).toBe(HOUR_MS);
      expect(inMinutes(answer)).toEqual([
        [125 - PERIOD_MS / MINUTE_MS, 300, 'board-silent'],
        [300, 420, 'out-of-water'],
      ]);
    });
  });

  describe(`${name}: computed channels`, () => {
    const waterOf = async (world: HistoryWorld, endMs: number): Promise<void> => {
      named(world, 'l2.conductivity', 'mS/cm');
      named(world, 'l2.temperature', 'degC');
      named(world, 'l2.oxygen-mg-l', 'mg/L');
      await world.keep([
        ...steady(START_MS, endMs, (n) => ({ sourceId: 1, raw: 47 + (n % 5) })),
        ...steady(START_MS - 3_000, endMs, (n) => ({ sourceId: 2, raw: 20 + (n % 3) })),
        ...steady(START_MS + 2_000, endMs, () => ({ sourceId: 3, raw: 7 })),
      ]);
    };
    const salinity = (conductivityMsCm: number, temperatureC: number): number => {
      const answer = practicalSalinityFromConductivity({ conductivityMsCm, temperatureC });
      return answer.ok ? answer.value : Number.NaN;
    };

    test('salinity is computed from conductivity and the temperature of that moment', async () => {
      const world = await open();
      await waterOf(world, START_MS + MINUTE_MS);
      const { atMs, mean, unit } = await world.history.readings(
        'l2.salinity~computed',
        START_MS,
        START_MS + MINUTE_MS,
        9,
      );
      expect(unit).toBe('1');
      expect(atMs).toHaveLength(6);
      expect(mean).toEqual([0, 1, 2, 3, 4, 5].map((n) => salinity(47 + (n % 5), 20 + (n % 3))));
    });

    test('oxygen saturation is computed through a salinity that is computed itself', async () => {
      const world = await open();
      await waterOf(world, START_MS + 30_000);
      const { mean } = await world.history.readings('l2.oxygen-saturation~computed', START_MS, START_MS + 10_000, 9);
      const saturation = oxygenSaturationPct({ oxygenMgL: 7, temperatureC: 20, salinity: salinity(47, 20) });
      expect(mean).toEqual([saturation.ok && saturation.value]);
    });

    test('an input that is silent or not water leaves no value behind', async () => {
      const world = await open();
      named(world, 'l2.conductivity', 'mS/cm');
      named(world, 'l2.temperature', 'degC');
      await world.keep([
        ...steady(START_MS, START_MS + 10 * MINUTE_MS, () => ({ raw: 47 })),
        ...steady(START_MS, START_MS + 2 * MINUTE_MS, (n) => ({ sourceId: 2, raw: 20, flags: n >= 6 ? STUCK : GOOD })),
      ]);
      const { atMs, mean } = await world.history.readings(
        'l2.salinity~computed',
        START_MS,
        START_MS + 10 * MINUTE_MS,
        99,
      );
      expect(mean.slice(0, 7).map((value) => value === null)).toEqual([false, false, false, false, false, false, true]);
      // Five minutes after the last temperature there is nothing to compute with.
      expect(atMs.at(-1)).toBe(START_MS + 2 * MINUTE_MS - PERIOD_MS + 5 * MINUTE_MS);
    });

    test('a probe in air has no salinity rather than one of zero', async () => {
      const world = await open();
      named(world, 'l2.conductivity', 'mS/cm');
      named(world, 'l2.temperature', 'degC');
      await world.keep([
        reading({ deviceMs: START_MS, raw: 0 }),
        reading({ sourceId: 2, deviceMs: START_MS, raw: 20 }),
      ]);
      expect(await world.history.readings('l2.salinity~computed', START_MS, START_MS + 10, 9)).toMatchObject({
        mean: [null],
        usable: [0],
      });
    });

    test('asked for twice by the hour it answers the same, and anew after a late calibration', async () => {
      const world = await open();
      const endMs = START_MS + 5 * HOUR_MS;
      await waterOf(world, endMs);
      const ask = () => world.history.readings('l2.salinity~computed', START_MS, endMs, 5);
      const fromReadings = await ask();
      await world.settle();
      const [first, second] = [await ask(), await ask()];
      expect(first).toEqual(second);
      for (const [n, mean] of first.mean.entries()) expect(mean).toBeCloseTo(fromReadings.mean[n] ?? Number.NaN, 10);
      expect([first.min, first.max]).toEqual([fromReadings.min, fromReadings.max]);
      world.journal.calibrations.add(
        { sourceId: 2, fromMs: START_MS + 2.5 * HOUR_MS, slope: 1, offset: 1 },
        'Inês',
        START_MS,
      );
      const third = await ask();
      expect(third.mean.map((mean, n) => mean === first.mean[n])).toEqual([true, true, false, false, false]);
    });
  });

  describe(`${name}: trails and rows`, () => {
    test('trails are means of steps, null where nothing was read', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      await world.keep(
        [0, 10, 20, 75].map((seconds) => reading({ deviceMs: START_MS + seconds * 1_000, raw: seconds })),
      );
      expect(await world.history.trails(['l2.temperature', 'l3.ph'], START_MS, START_MS + 100_000, 25_000)).toEqual({
        fromMs: START_MS,
        toMs: START_MS + 100_000,
        stepMs: 25_000,
        trails: { 'l2.temperature': [10, null, null, 75], 'l3.ph': [null, null, null, null] },
      });
    });

    test('every reading is exported once, in order, with what was sent and what it means', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degF', 0, 'old');
      named(world, 'l2.temperature', 'degC', START_MS + 6_000 * PERIOD_MS, 'new');
      const endMs = START_MS + 12_000 * PERIOD_MS;
      await world.keep([
        ...steady(START_MS, endMs, () => ({ raw: 50 })),
        ...steady(START_MS, endMs, (n) => ({ sourceId: 2, flags: n === 6_001 ? DRY : GOOD })),
        reading({ deviceMs: START_MS, raw: 68, refusedMs: 4 }),
      ]);
      const rows = await allRows(world.history.rows('l2.temperature', START_MS, endMs));
      expect(rows).toHaveLength(12_001);
      expect(rows.every(({ atMs }, n) => atMs >= (rows[n - 1]?.atMs ?? 0))).toBe(true);
      expect(rows[1]).toMatchObject({
        atMs: START_MS,
        arrivalMs: START_MS + 20,
        sent: { variant: 1, raw: 68, unit: 'degF', refusedMs: 4 },
        usable: true,
      });
      expect(rows[1]?.value).toBeCloseTo(20, 12);
      expect(rows[6_002]).toMatchObject({
        sent: { sourceId: 2, raw: 18.5, unit: 'degC', flags: DRY },
        value: 18.5,
        usable: false,
      });
    });
  });

  describe(`${name}: what was frozen`, () => {
    const HOURS = 6;
    const toMs = START_MS + HOURS * HOUR_MS;
    const sumOf = async (world: HistoryWorld, channelId: string): Promise<string | undefined> => {
      const windows = [{ name: '24h' as const, fromMs: START_MS, toMs }];
      const asked = { channelId, placeId: 'l2', part: 'affected' as const, windows, wants: [], work: [] };
      return (await world.history.review({ ...asked, zone: 'UTC', nowMs: toMs })).rowsSha256;
    };
    const exportedSum = async (world: HistoryWorld, channelId: string): Promise<string> => {
      const sum = buildRowsSum();
      for (const row of await allRows(world.history.rows(channelId, START_MS, toMs))) sum.add(summedRow(row));
      return sum.hex();
    };
    const filled = async (world: HistoryWorld): Promise<void> => {
      named(world, 'l2.temperature', 'degC');
      named(world, 'l2.conductivity', 'mS/cm');
      await world.keep([
        ...steady(START_MS - HOUR_MS, toMs + HOUR_MS, (n) => ({ raw: 18 + (n % 7), flags: n % 50 === 0 ? DRY : GOOD })),
        ...steady(START_MS - HOUR_MS, toMs + HOUR_MS, (n) => ({
          sourceId: 2,
          raw: n % 40 === 0 ? 0.001 : 40 + (n % 3),
        })),
        reading({ deviceMs: START_MS, raw: 68, refusedMs: 4 }),
      ]);
    };

    test('the checksum of a reviewed channel is that of its exported readings, measured and computed', async () => {
      const world = await open();
      await filled(world);
      for (const channelId of ['l2.temperature', 'l2.salinity~computed'])
        expect(await sumOf(world, channelId), channelId).toBe(await exportedSum(world, channelId));
    });

    test('it is the same when asked again, and another after a late reading', async () => {
      const world = await open();
      await filled(world);
      const before = await sumOf(world, 'l2.temperature');
      await world.settle();
      expect(await sumOf(world, 'l2.temperature')).toBe(before);
      await world.keep([reading({ deviceMs: START_MS + 5_000, raw: 18 })]);
      expect(await sumOf(world, 'l2.temperature')).not.toBe(before);
    });

    test('a computed channel that a review has looked through is known by the hour as if it had been asked by the hour', async () => {
      const [looked, asked] = [await open(), await open()];
      for (const world of [looked, asked]) {
        await filled(world);
        await world.settle();
      }
      await sumOf(looked, 'l2.salinity~computed');
      const byHours = (world: HistoryWorld) => world.history.readings('l2.salinity~computed', START_MS, toMs, HOURS);
      expect(await byHours(looked)).toEqual(await byHours(asked));
    });
  });

  describe(`${name}: for any readings`, () => {
    test('there are never more points than asked for, nor than readings, and least and greatest are never lost', async () => {
      const world = await open();
      named(world, 'l2.temperature', 'degC');
      const all = steady(START_MS, START_MS + 30 * HOUR_MS, (n) => ({
        raw: Math.sin(n) * 5,
        flags: n % 17 === 0 ? DRY : GOOD,
      }));
      await world.keep(all);
      await world.settle();
      const inSpan = fc.record({
        fromMs: fc.integer({ min: START_MS - HOUR_MS, max: START_MS + 30 * HOUR_MS }),
        lengthMs: fc.integer({ min: 1, max: 32 * HOUR_MS }),
        points: fc.integer({ min: 1, max: 3_000 }),
      });
      await fc.assert(
        fc.asyncProperty(inSpan, async ({ fromMs, lengthMs, points }) => {
          const toMs = fromMs + lengthMs;
          const there = all.filter(({ deviceMs }) => deviceMs >= fromMs && deviceMs < toMs);
          const water = there.filter(({ flags }) => flags === GOOD).map(({ raw }) => raw);
          const answer = await world.history.readings('l2.temperature', fromMs, toMs, points);
          expect(answer.atMs.length).toBeLessThanOrEqual(Math.min(points, there.length));
          expect(
            answer.atMs.every((atMs, n) => atMs >= fromMs && atMs < toMs && atMs > (answer.atMs[n - 1] ?? 0)),
          ).toBe(true);
          const known = (column: readonly (number | null)[]) => column.filter((value) => value !== null);
          expect(Math.max(...known(answer.max))).toBe(Math.max(...water));
          expect(Math.min(...known(answer.min))).toBe(Math.min(...water));
        }),
        { seed: 20260605, numRuns: 60 },
      );
    });
  });
};
