import { describe, expect, it } from 'vitest';
import { type FaultMoment, faultedValue, type ProbeFault } from '../../simulator/fault.js';

const MOMENT: FaultMoment = { sinceMs: 0, atMs: 7_200_000, sent: 23.1, resolution: 0.1, seed: 5 };
const many = (fault: ProbeFault): readonly (number | string | undefined)[] =>
  Array.from({ length: 4000 }, (_, i) => faultedValue(24, fault, { ...MOMENT, atMs: i * 5000 }));

describe('faults of probes, as they are seen', () => {
  it('a stuck probe repeats the last value it sent', () => {
    expect(faultedValue(24, { kind: 'stuck' }, MOMENT)).toBe(23.1);
    expect(faultedValue(24, { kind: 'stuck' }, { ...MOMENT, sent: undefined })).toBe(24);
  });

  it.each([85, -127, 0, 65_535])('a sensor that does not answer shows %s', (value) => {
    expect(faultedValue(24, { kind: 'fault-value', value }, MOMENT)).toBe(value);
  });

  it('a spiking probe is right most of the time and far off now and then', () => {
    const seen = many({ kind: 'spike', height: 9, share: 0.05 });
    const high = seen.filter((value) => value === 33).length;
    expect(seen.every((value) => value === 24 || value === 33)).toBe(true);
    // Five standard errors of a share of 5 % in 4,000.
    expect(Math.abs(high / 4000 - 0.05)).toBeLessThan(0.0172);
  });

  it('a probe with a loose plug leaves out its share of readings, a silent one all of them', () => {
    const missing = many({ kind: 'drop-out', share: 0.3 }).filter((value) => value === undefined).length;
    expect(Math.abs(missing / 4000 - 0.3)).toBeLessThan(0.0362);
    expect(many({ kind: 'silent' }).every((value) => value === undefined)).toBe(true);
  });

  it('a fouling probe walks away by so much an hour, a bubbled cell jumps at once', () => {
    expect(faultedValue(24, { kind: 'creep', perH: -0.4 }, MOMENT)).toBe(23.2);
    expect(faultedValue(24, { kind: 'step', by: -1.5 }, MOMENT)).toBe(22.5);
  });

  it('a railed input shows its rail, and a broken line text that is no number', () => {
    expect(faultedValue(24, { kind: 'flat', value: 100 }, MOMENT)).toBe(100);
    expect(faultedValue(24, { kind: 'garbled', text: 'nan' }, MOMENT)).toBe('nan');
  });
});
