import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { beforeAll, expect, it } from 'vitest';
import type { Answer } from '../../rules/answer.js';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import { oxygenSolubilityMgL, oxygenSolubilityUmolKg } from '../../rules/seawater/oxygen.js';
import { conductivityFromPracticalSalinity, practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import { answered } from '../support/answered.js';
import { peer } from '../support/peer.js';

/** Debian's own interpreter: python3-gsw is not in any other. */
const PYTHON = '/usr/bin/python3';

const whyMissing = (): string | undefined => {
  try {
    execFileSync(PYTHON, ['-c', 'import gsw'], { stdio: 'pipe' });
    return undefined;
  } catch {
    return `${PYTHON} cannot import gsw (Debian package python3-gsw)`;
  }
};

type Point = {
  readonly salinity: number;
  readonly temperatureC: number;
  readonly pressureDbar: number;
  readonly conductivityMsCm: number;
};

/** xorshift32: the same points on every machine. */
const randomFrom = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
};

/** What a hatchery's water can be, from a melted intake to an evaporated tank; every fourth point is brackish, under 3. */
const points = (count: number): readonly Point[] => {
  const random = randomFrom(19781010);
  return Array.from({ length: count }, (_, index) => {
    const brackish = index % 4 === 0;
    const temperatureC = 35 * random();
    return {
      salinity: 0.02 + (brackish ? 2.98 : 41.98) * random(),
      temperatureC,
      pressureDbar: index % 2 === 0 ? 0 : 2 * random(),
      // Just under what salinity 42 conducts: 34.2 mS/cm at 0 °C, 74.9 at 35 °C (gsw.C_from_SP).
      conductivityMsCm: 0.05 + (brackish ? 5 : 33 + 1.15 * temperatureC) * random(),
    };
  });
};

type Columns = Readonly<
  Record<
    'conductivityMsCm' | 'salinity' | 'densityKgM3' | 'densityExactKgM3' | 'oxygenUmolKg' | 'oxygenMgL',
    readonly number[]
  >
>;

peer('python3-gsw', whyMissing)('Seawater agrees with TEOS-10 at 6000 random points', () => {
  const asked = points(6000);
  let theirs: Columns;

  beforeAll(() => {
    const rows = asked.map((p) => [p.salinity, p.temperatureC, p.pressureDbar, p.conductivityMsCm]);
    const script = fileURLToPath(new URL('./gsw-points.py', import.meta.url));
    const printed = execFileSync(PYTHON, [script], { input: JSON.stringify(rows), maxBuffer: 64e6, encoding: 'utf8' });
    theirs = JSON.parse(printed);
  });

  /** The largest difference, ours to theirs, and where it is. A point that either side refuses fails. */
  const worst = (
    ours: (point: Point) => Answer,
    column: keyof Columns,
    difference = (our: number, their: number): number => Math.abs(our - their),
  ): { readonly off: number; readonly at: Point | undefined } => {
    let off = 0;
    let at: Point | undefined;
    for (const [index, point] of asked.entries()) {
      const their = theirs[column][index];
      if (their === undefined || !Number.isFinite(their)) throw new Error(`gsw gave no ${column} at ${index}`);
      const here = difference(answered(ours(point)), their);
      if (here > off) [off, at] = [here, point];
    }
    return { off, at };
  };
  const relative = (our: number, their: number): number => Math.abs(our / their - 1);

  const holds = (found: ReturnType<typeof worst>, tolerance: number): void =>
    expect(found.off, `worst at ${JSON.stringify(found.at)}`).toBeLessThanOrEqual(tolerance);

  it('in salinity from conductivity within 1e-9 (a probe is good for 0.1)', () => {
    holds(worst(practicalSalinityFromConductivity, 'salinity'), 1e-9);
  });

  it('in conductivity from salinity within 1e-9 mS/cm', () => {
    holds(worst(conductivityFromPracticalSalinity, 'conductivityMsCm'), 1e-9);
  });

  // EOS-80 (1980) against TEOS-10 (2010): other measurements, and Reference for Absolute Salinity.
  it('in density within 0.01 kg/m³, against the fitted and the exact equation', () => {
    holds(worst(seawaterDensityKgM3, 'densityKgM3'), 0.01);
    holds(worst(seawaterDensityKgM3, 'densityExactKgM3'), 0.01);
  });

  it('in oxygen at saturation within 1e-11 of its value in µmol/kg', () => {
    holds(worst(oxygenSolubilityUmolKg, 'oxygenUmolKg', relative), 1e-11);
  });

  // What is left is the difference of the two densities.
  it('in oxygen at saturation within 0.001 % in mg/L', () => {
    holds(worst(oxygenSolubilityMgL, 'oxygenMgL', relative), 1e-5);
  });
});
