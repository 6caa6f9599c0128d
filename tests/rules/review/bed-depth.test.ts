import { describe, expect, it } from 'vitest';
import { bedDepths } from '../../../rules/review/bed-depth.js';
import type { ChannelReadings } from '../../../rules/wire/api.js';

const MINUTE = 60_000;
const DAY = 86_400_000;

const readings = (
  quantity: ChannelReadings['quantity'],
  values: readonly (readonly [min: number, mean: number, max: number] | null)[],
): ChannelReadings => ({
  ...{ channelId: `b1.${quantity}`, quantity, unit: '', fromMs: 0, toMs: values.length * MINUTE, bucketMs: MINUTE },
  atMs: values.map((_, n) => n * MINUTE),
  min: values.map((value) => value?.[0] ?? null),
  mean: values.map((value) => value?.[1] ?? null),
  max: values.map((value) => value?.[2] ?? null),
  usable: values.map((value) => (value === null ? 0 : 1)),
  gaps: [],
});
const flat = (value: number) => [value, value, value] as const;
const water = (oxygen: Parameters<typeof readings>[1], temperatureC: number) => ({
  oxygen: readings('oxygen-mg-l', oxygen),
  temperature: readings(
    'temperature',
    oxygen.map(() => flat(temperatureC)),
  ),
  salinity: readings(
    'salinity',
    oxygen.map(() => flat(35)),
  ),
});

const SAND = { kind: 'sand', depthM: 0.12, porosity: 0.4, cleanDemandMmolM2Day: 20 } as const;
const OPEN = { aerated: true, pressureKpa: 101.325 };

describe('the oxygenated depth of a bed over time', () => {
  it('is the worked figure of the bed at a calibrated transport', () => {
    // Porosity 0.40, transport 5, demand 20 mmol/m2/day, 26 °C, 4.660094 mg/L, film 0.5 mm: 1.598474 mm
    // (rules/bed/penetration.ts; a time-marching solution of the diffusion equation gives 1.594).
    const calibration = { kind: 'core', depthMm: 1.6, atMs: 0, transport: 5, pumped: false } as const;
    const depths = bedDepths({ bed: { ...SAND, calibration }, ...OPEN }, water([flat(4.660094)], 26));
    expect(depths.mid[0]).toBeCloseTo(1.598474, 4);
    expect(depths.uncalibrated).toBeUndefined();
  });

  it('is a wide range without a middle, and says so, until somebody looked at the layer', () => {
    const depths = bedDepths({ bed: SAND, ...OPEN }, water([flat(7)], 24));
    expect(depths.uncalibrated).toBe('never-calibrated');
    expect(depths.mid).toEqual([null]);
    expect((depths.high[0] ?? 0) / (depths.low[0] ?? 1)).toBeGreaterThan(5);
  });

  it('says that a calibration of more than a month ago holds no more', () => {
    const calibration = { kind: 'core', depthMm: 1.6, atMs: -40 * DAY, transport: 5, pumped: false } as const;
    expect(bedDepths({ bed: { ...SAND, calibration }, ...OPEN }, water([flat(7)], 24)).uncalibrated).toBe(
      'calibration-old',
    );
  });

  it('keeps a short dip of oxygen, and shows nothing where it was not measured', () => {
    const depths = bedDepths({ bed: SAND, ...OPEN }, water([flat(7), [1, 6.5, 7], null], 24));
    expect(depths.low[1]).toBeLessThan((depths.low[0] ?? 0) / 3);
    expect(depths.high[1]).toBeCloseTo(depths.high[0] ?? 0, 9);
    expect([depths.low[2], depths.high[2]]).toEqual([null, null]);
  });
});
