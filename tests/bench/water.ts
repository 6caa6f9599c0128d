import type { DayColumns } from '../../gateway/journal/sealed/day.js';
import { FLAG } from '../../rules/quality/flag.js';
import { flagsFromVerdict } from '../../rules/quality/packed.js';
import { makeVerdict } from '../../rules/quality/verdict.js';
import { UNIT } from '../../rules/quantity.js';

/** What a tank's board measures, with noise and resolution like the simulator's probes (common practice, no source). */
export const PROBES = [
  { quantity: 'temperature', unit: 'degC', middle: 21, swing: 0.8, noise: 0.02, perUnit: 100 },
  { quantity: 'conductivity', unit: 'mS/cm', middle: 46, swing: 0.5, noise: 0.04, perUnit: 100 },
  { quantity: 'oxygen-mg-l', unit: UNIT['oxygen-mg-l'], middle: 7, swing: 0.6, noise: 0.03, perUnit: 100 },
  { quantity: 'level', unit: UNIT.level, middle: 0.9, swing: 0.01, noise: 0.002, perUnit: 1_000 },
] as const;

export const PERIOD_MS = 10_000;
const DAY_MS = 86_400_000;
const A_DAY = DAY_MS / PERIOD_MS;
const GOOD = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, 'gross-range': FLAG.pass, spike: FLAG.pass }));
const ODD = flagsFromVerdict(makeVerdict({ syntax: FLAG.pass, 'gross-range': FLAG.pass, spike: FLAG.suspect }));

const TABLE = 2 ** 16;

/** Xorshift (Marsaglia 2003): the same numbers for the same seed, four nanoseconds each. */
const chanceFrom = (seed: number): (() => number) => {
  let bits = Math.imul(seed + 1, 0x9e3779b1) | 1;
  return () => {
    bits ^= bits << 13;
    bits ^= bits >>> 17;
    bits ^= bits << 5;
    return bits >>> 0;
  };
};

const NORMAL = ((): Float64Array => {
  const next = chanceFrom(7);
  const even = (): number => (next() + 1) / (2 ** 32 + 1);
  return Float64Array.from({ length: TABLE }, () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even()));
})();

/**
 * One board's day of stamps: every ten seconds, some milliseconds off, two in a thousand lost on the way; each arrives
 * 4 ms and, exponentially, another 6 ms later. All of a board's probes share them.
 */
const stampsOf = (tank: number, day: number): Pick<DayColumns, 'deviceMs' | 'delayMs'> => {
  const next = chanceFrom(tank * 100_003 + day);
  const phaseMs = (tank * 613) % PERIOD_MS;
  const deviceMs = new Float64Array(A_DAY);
  const delayMs = new Float64Array(A_DAY);
  let kept = 0;
  for (let n = 0; n < A_DAY; n += 1) {
    if (next() % 1_000 < 2) continue;
    deviceMs[kept] = day * DAY_MS + n * PERIOD_MS + Math.min(PERIOD_MS - 3, phaseMs) + (next() % 3);
    delayMs[kept] = Math.round(4 - 6 * Math.log((next() + 1) / (2 ** 32 + 1)));
    kept += 1;
  }
  return { deviceMs: deviceMs.slice(0, kept), delayMs: delayMs.slice(0, kept) };
};

/** One probe's UTC day: a daily curve, a slow wander from day to day, noise, the probe's resolution. */
export const makeDay = (tank: number, probe: number, day: number): DayColumns => {
  const { middle, swing, noise, perUnit } = PROBES[probe % PROBES.length] ?? PROBES[0];
  const { deviceMs, delayMs } = stampsOf(tank, day);
  const next = chanceFrom((tank * 8 + probe) * 100_019 + day);
  const wander = swing * Math.sin(day / 3 + tank) * 0.5;
  const raw = deviceMs.map((atMs) => {
    const water = middle + wander + swing * Math.sin((2 * Math.PI * atMs) / DAY_MS);
    return Math.round((water + noise * (NORMAL[next() % TABLE] ?? 0)) * perUnit) / perUnit;
  });
  return {
    deviceMs,
    delayMs,
    raw,
    flags: deviceMs.map(() => (next() % 1_000 === 0 ? ODD : GOOD)),
    variant: new Float64Array(deviceMs.length),
    refusedMs: new Float64Array(deviceMs.length).fill(Number.NaN),
  };
};
