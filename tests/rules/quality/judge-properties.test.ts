import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FLAG, type Flag } from '../../../rules/quality/flag.js';
import { freshMemory, type JudgedReading, judgeReading, type QualitySettings } from '../../../rules/quality/judge.js';
import { flagsFromVerdict } from '../../../rules/quality/packed.js';
import { flagOf, type QualityTest, type Verdict } from '../../../rules/quality/verdict.js';

const SEED = { seed: 20260314, numRuns: 300 };

const settings: QualitySettings = {
  periodMs: 10_000,
  resolution: 0.1,
  sensorSpan: [-5, 80],
  userSpan: [0, 40],
  faultValues: [85, -127],
  spike: { suspect: 0.3, fail: 1 },
  rate: { perHour: 30, windowMs: 160_000, minBaseMs: 30_000 },
  flat: { tolerance: 0.2, suspectMs: 60_000, failMs: 150_000, gapMs: 45_000, minSamples: 4 },
};

/** Tenths of a degree that mostly stay near each other, at steps of 10 to 50 s, with a fault value now and then. */
const series: fc.Arbitrary<readonly JudgedReading[]> = fc
  .array(
    fc.record({
      stepMs: fc.integer({ min: 10_000, max: 50_000 }),
      tenths: fc.oneof(
        { weight: 9, arbitrary: fc.integer({ min: 200, max: 204 }) },
        fc.constantFrom(850, 260, 390, 900),
      ),
    }),
    { maxLength: 60 },
  )
  .map((steps) => {
    let atMs = 1_773_000_000_000;
    return steps.map(({ stepMs, tenths }) => {
      atMs += stepMs;
      return { atMs, value: tenths / 10 };
    });
  });

type Told = { readonly atMs: number; readonly flags: number };

/** What the journal would hold in the end: every verdict, revised where its successor revised it. */
const judgeAll = (readings: readonly JudgedReading[], pauses: ReadonlySet<number> = new Set()): readonly Told[] => {
  const told = new Map<number, number>();
  let memory = freshMemory;
  readings.forEach((reading, n) => {
    if (pauses.has(n)) memory = JSON.parse(JSON.stringify(memory)) as typeof memory;
    const judged = judgeReading(memory, reading, settings);
    memory = judged.memory;
    told.set(reading.atMs, flagsFromVerdict(judged.verdict));
    if (judged.revision !== undefined) told.set(judged.revision.atMs, flagsFromVerdict(judged.revision.verdict));
  });
  return [...told].map(([atMs, flags]) => ({ atMs, flags }));
};

const verdicts = (readings: readonly JudgedReading[]): readonly Verdict[] => {
  let memory = freshMemory;
  return readings.map((reading) => {
    const judged = judgeReading(memory, reading, settings);
    memory = judged.memory;
    return judged.verdict;
  });
};

/** The series test by test as the rule is written, walking back through all there was, to compare the stream with. */
const valid = (readings: readonly JudgedReading[]) => readings.filter(({ value }) => value <= 80 && value >= -5);

const flatByWalkingBack = (readings: readonly JudgedReading[], n: number): Flag => {
  let [low, high, first] = [Infinity, -Infinity, n];
  for (let k = n; k >= 0; k -= 1) {
    const { atMs, value } = readings[k] ?? { atMs: 0, value: 0 };
    const nextMs = readings[k + 1]?.atMs ?? atMs;
    low = Math.min(low, value);
    high = Math.max(high, value);
    if ((k < n && nextMs - atMs > 45_000) || high - low > 0.2) break;
    first = k;
  }
  const spanMs = (readings[n]?.atMs ?? 0) - (readings[first]?.atMs ?? 0);
  if (n - first + 1 < 4 || spanMs < 60_000) return FLAG.pass;
  return spanMs >= 150_000 ? FLAG.fail : FLAG.suspect;
};

const rateByOldest = (readings: readonly JudgedReading[], n: number): Flag => {
  const here = readings[n] ?? { atMs: 0, value: 0 };
  const oldest = readings.slice(0, n).find(({ atMs }) => atMs >= here.atMs - 160_000);
  if (oldest === undefined || here.atMs - oldest.atMs < 30_000) return FLAG.notEvaluated;
  const perHour = (Math.abs(here.value - oldest.value) * 3_600_000) / (here.atMs - oldest.atMs);
  return perHour > 30 ? FLAG.suspect : FLAG.pass;
};

const expectSame = (test: QualityTest, byRule: (readings: readonly JudgedReading[], n: number) => Flag) =>
  fc.assert(
    fc.property(series, (all) => {
      const readings = valid(all);
      expect(verdicts(readings).map((verdict) => flagOf(verdict, test))).toEqual(
        readings.map((_, n) => byRule(readings, n)),
      );
    }),
    SEED,
  );

describe('judging reading by reading', () => {
  test('gives the same flags wherever the gateway stopped, kept its memory as JSON and went on', () => {
    fc.assert(
      fc.property(series, fc.array(fc.nat(59)), (readings, pauses) => {
        expect(judgeAll(readings, new Set(pauses))).toEqual(judgeAll(readings));
      }),
      SEED,
    );
  });

  test('finds the same flat lines as walking back through the whole record', () => {
    expectSame('flat-line', flatByWalkingBack);
  });

  test('finds the same rates as looking for the oldest reading of the window', () => {
    expectSame('rate-of-change', rateByOldest);
  });

  test('never changes the memory that it was given', () => {
    fc.assert(
      fc.property(series, (readings) => {
        let memory = freshMemory;
        for (const reading of readings) {
          const before = JSON.stringify(memory);
          const { memory: after } = judgeReading(memory, reading, settings);
          expect(JSON.stringify(memory)).toBe(before);
          memory = after;
        }
      }),
      SEED,
    );
  });

  test('never throws and never hands on a number that is none, whatever a board sends', () => {
    const anything = fc.record({ atMs: fc.maxSafeInteger(), value: fc.double() });
    fc.assert(
      fc.property(fc.array(anything), (readings) => {
        const wide = { ...settings, sensorSpan: [-Number.MAX_VALUE, Number.MAX_VALUE] as const };
        let memory = freshMemory;
        for (const reading of readings) {
          const judged = judgeReading(memory, reading, wide);
          memory = judged.memory;
          expect(flagsFromVerdict(judged.verdict)).toBeGreaterThan(0);
          expect(JSON.stringify(memory)).not.toContain('null');
        }
      }),
      SEED,
    );
  });

  test('needs no more memory after a day of one reading a second than after a quarter of an hour', () => {
    const size = (seconds: number) => {
      let memory = freshMemory;
      for (let n = 0; n < seconds; n += 1) {
        // Full-precision noise inside the tolerance: the hardest case for the flat line.
        const value = 20 + 0.09 * Math.sin(n * n);
        memory = judgeReading(memory, { atMs: n * 1000, value }, settings).memory;
      }
      return memory.bases.length + (memory.flatRun?.levels.length ?? 0);
    };
    expect(size(900)).toBeLessThanOrEqual(17 + 32);
    expect(size(86_400)).toBeLessThanOrEqual(17 + 32);
  });
});
