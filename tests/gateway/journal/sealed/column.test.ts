import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openColumn, sealColumn } from '../../../../gateway/journal/sealed/column.js';

const bitsOf = (values: Float64Array): readonly bigint[] => [
  ...new BigUint64Array(values.buffer, values.byteOffset, values.length),
];
const isSame = (values: Float64Array): boolean => {
  const opened = openColumn(sealColumn(values), values.length);
  return bitsOf(opened).every((one, n) => one === bitsOf(values)[n]);
};
const column = (length: number, value: (n: number) => number): Float64Array =>
  Float64Array.from({ length }, (_, n) => value(n));
/** Even noise from 0 to 1, the same each time. */
const noise = (n: number): number => ((Math.imul(n + 1, 0x9e3779b1) ^ Math.imul(n + 7, 0x85ebca6b)) >>> 0) / 2 ** 32;

describe('a sealed column', () => {
  const cases: readonly (readonly [string, (n: number) => number])[] = [
    ['a constant', () => 18.25],
    ['minus zero among zeros', (n) => (n === 3 ? -0 : 0)],
    ['nothing but minus zero', () => -0],
    ['steps of 0.0625, as digital thermometers send', (n) => 18 + Math.round(noise(n) * 9) * 0.0625],
    ['two decimals that were a 32-bit float on the way', (n) => Math.fround(18 + Math.round(noise(n) * 99) / 100)],
    ['an open thermometer’s −127 among water', (n) => (n % 50 === 7 ? -127 : 20 + Math.round(noise(n) * 30) / 100)],
    ['the smallest and the largest doubles', (n) => [Number.MIN_VALUE, -Number.MAX_VALUE, 1, 5e-324 * n][n % 4] ?? 0],
    ['numbers beyond 2^53', (n) => 2 ** 60 + n * 2 ** 12],
    ['all decimals there are', (n) => noise(n) / 3],
    ['a jump of a million and back', (n) => (n % 100 === 50 ? 1_000_000 : n % 3)],
    ['a third of a day without a stamp', (n) => (n % 3 === 0 ? Number.NaN : 1_700 + n)],
    ['a slow climb', (n) => Math.round(1_500 + n * 0.07) / 100],
  ];
  test.each(cases)('%s comes back bit by bit', (_, value) => {
    for (const length of [1, 2, 700]) expect(isSame(column(length, value))).toBe(true);
  });

  test('any finite doubles come back bit by bit', () => {
    const anyBits = fc.uint8Array({ minLength: 8, maxLength: 8 }).map((bytes) => {
      const value = new DataView(bytes.buffer, bytes.byteOffset).getFloat64(0);
      return Number.isFinite(value) ? value : 0;
    });
    const decimal = fc.tuple(fc.integer(), fc.integer({ min: 0, max: 12 })).map(([n, digits]) => n / 10 ** digits);
    const value = fc.oneof(anyBits, fc.double({ noNaN: true, noDefaultInfinity: true }), decimal, fc.constant(-0));
    const values = fc.oneof(
      fc.array(value, { minLength: 1, maxLength: 200 }),
      fc.array(decimal, { minLength: 1, maxLength: 200 }),
      fc.array(fc.constantFrom(0, 1, -0, 25.5), { minLength: 1, maxLength: 200 }),
    );
    fc.assert(
      fc.property(values, (all) => isSame(Float64Array.from(all))),
      { seed: 20260701, numRuns: 600 },
    );
  });

  test('damaged bytes are told, not decoded to something else', () => {
    const sealed = sealColumn(column(700, (n) => Math.round(noise(n) * 500) / 100));
    expect(() => openColumn(sealed.subarray(0, sealed.length / 2), 700)).toThrow();
    expect(() => openColumn(Buffer.from([99, 0, 0]), 700)).toThrow('a form that this program does not know: 99');
  });

  test('the noise of a good probe is stored near its entropy', () => {
    // Normal noise of two steps: log2(2 √(2πe)) = 3.05 bit a reading (Shannon 1948), forecast 3 % wider: 3.09 bit.
    const normal = (n: number): number =>
      Math.sqrt(-2 * Math.log(1 - noise(2 * n))) * Math.cos(2 * Math.PI * noise(2 * n + 1));
    const water = column(8_640, (n) => Math.round((20 + Math.sin(n / 1_375) + 0.02 * normal(n)) * 100) / 100);
    expect((sealColumn(water).length * 8) / 8_640).toBeLessThan(3.09 * 1.1);
  });
});
