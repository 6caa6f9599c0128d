import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../../rules/answer.js';
import { airPressureKpaFromAltitude } from '../../../rules/seawater/air-pressure.js';
import { unionisedAmmoniaFraction } from '../../../rules/seawater/ammonia.js';
import { seawaterDensityKgM3 } from '../../../rules/seawater/density.js';
import {
  oxygenMgLFromSaturation,
  oxygenSaturationPct,
  oxygenSolubilityMgL,
  oxygenSolubilityUmolKg,
} from '../../../rules/seawater/oxygen.js';
import { oxygenMeterErrorPct, oxygenMgLFromMeter } from '../../../rules/seawater/oxygen-meter.js';
import {
  oxygenMgLFromMlL,
  oxygenMgLFromUmolKg,
  oxygenMlLFromMgL,
  oxygenUmolKgFromMgL,
} from '../../../rules/seawater/oxygen-unit.js';
import {
  conductivityFromPracticalSalinity,
  practicalSalinityFromConductivity,
} from '../../../rules/seawater/salinity.js';
import {
  compensationPctPerCFromReadings,
  salinityFromSpecificConductance,
  specificConductanceFromSalinity,
} from '../../../rules/seawater/specific-conductance.js';
import { ipts68FromIts90, its90FromIpts68 } from '../../../rules/seawater/temperature-scale.js';
import { vapourPressureKpa } from '../../../rules/seawater/vapour-pressure.js';
import { hasSentence, refusalSentence } from '../../../rules/words/refusal.js';

type Span = readonly [low: number, high: number];
type Calculation = {
  readonly name: string;
  readonly takes: Readonly<Record<string, Span>>;
  readonly gives: Span;
  readonly answer: (values: Readonly<Record<string, number>>) => Answer;
};

/** Gives a calculation its arguments by name; the type of the record is what the test hands over. */
const calculation = <K extends string>(
  f: (values: Readonly<Record<K, number>>) => Answer,
  takes: Readonly<Record<K, Span>>,
  gives: Span,
): Calculation => ({
  name: f.name,
  takes,
  gives,
  answer: (values) => f(values as Readonly<Record<K, number>>),
});

const temperatureC = [-2, 45] as const;
const salinity = [0, 50] as const;
const pressureDbar = [0, 10000] as const;
const pressureKpa = [50.6625, 111.4575] as const;
const oxygenMgL = [0, 50] as const;
const milliSiemens = [0, 150] as const;
const compensationPctPerC = [0, 3] as const;

// What each takes and gives, said here once more and apart from the code.
const CALCULATIONS: readonly Calculation[] = [
  calculation(ipts68FromIts90, { its90C: temperatureC }, [-2.1, 45.1]),
  calculation(its90FromIpts68, { ipts68C: temperatureC }, [-2, 45]),
  calculation(
    practicalSalinityFromConductivity,
    { conductivityMsCm: milliSiemens, temperatureC, pressureDbar },
    salinity,
  ),
  calculation(conductivityFromPracticalSalinity, { salinity: [0.01, 50], temperatureC, pressureDbar }, [0.01, 150]),
  calculation(
    salinityFromSpecificConductance,
    { specificConductanceMsCm: milliSiemens, temperatureC, compensationPctPerC },
    salinity,
  ),
  calculation(specificConductanceFromSalinity, { salinity: [0.01, 50], temperatureC, compensationPctPerC }, [0, 250]),
  calculation(
    compensationPctPerCFromReadings,
    { conductivityMsCm: [0.01, 150], specificConductanceMsCm: [0.01, 150], temperatureC },
    compensationPctPerC,
  ),
  calculation(seawaterDensityKgM3, { salinity, temperatureC }, [985, 1045]),
  calculation(vapourPressureKpa, { salinity, temperatureC }, [0.5, 10]),
  calculation(airPressureKpaFromAltitude, { altitudeM: [-500, 5000], seaLevelPressureKpa: [85, 110] }, pressureKpa),
  calculation(oxygenSolubilityUmolKg, { salinity, temperatureC, pressureKpa }, [50, 550]),
  calculation(oxygenSolubilityMgL, { salinity, temperatureC, pressureKpa }, [1.5, 17.5]),
  calculation(oxygenSaturationPct, { oxygenMgL, salinity, temperatureC, pressureKpa }, [0, 300]),
  calculation(oxygenMgLFromSaturation, { saturationPct: [0, 300], salinity, temperatureC, pressureKpa }, [0, 52]),
  calculation(oxygenMgLFromMlL, { oxygenMlL: [0, 35] }, [0, 50.1]),
  calculation(oxygenMlLFromMgL, { oxygenMgL }, [0, 35]),
  calculation(oxygenMgLFromUmolKg, { oxygenUmolKg: [0, 1600], salinity, temperatureC }, [0, 54]),
  calculation(oxygenUmolKgFromMgL, { oxygenMgL, salinity, temperatureC }, [0, 1600]),
  calculation(oxygenMgLFromMeter, { shownMgL: oxygenMgL, meterSalinity: salinity, salinity, temperatureC }, [0, 75]),
  calculation(oxygenMeterErrorPct, { meterSalinity: salinity, salinity, temperatureC }, [-35, 50]),
  calculation(unionisedAmmoniaFraction, { ph: [4, 11], salinity: [0, 40], temperatureC: [0, 40] }, [0, 1]),
  calculation(
    (values: { readonly ph: number; readonly salinity: number; readonly temperatureC: number }) =>
      unionisedAmmoniaFraction({ ...values, phScale: 'total' }),
    { ph: [4, 11], salinity: [0, 40], temperatureC: [0, 40] },
    [0, 1],
  ),
];

const SEED = { seed: 19830044, numRuns: 2000 };

const anyFinite = fc.double({ noNaN: true, noDefaultInfinity: true });
const inside = ([low, high]: Span) => fc.double({ min: low, max: high, noNaN: true });
const record = (takes: Calculation['takes'], of: (span: Span) => fc.Arbitrary<number>) =>
  fc.record(Object.fromEntries(Object.entries(takes).map(([what, span]) => [what, of(span)])));

/** True of every answer, whatever went in: a finite number within what is promised, or a refusal that can be said. */
const expectSound = ({ gives: [low, high] }: Calculation, answer: Answer): void => {
  if (answer.ok) {
    expect(answer.value).toBeGreaterThanOrEqual(low);
    expect(answer.value).toBeLessThanOrEqual(high);
    return;
  }
  const { fault } = answer;
  if (fault.code === 'out-of-range') expect(Number.isFinite(fault.value)).toBe(true);
  if (fault.code === 'impossible') expect(hasSentence(fault.because)).toBe(true);
  expect(refusalSentence(fault)).not.toMatch(/NaN|Infinity|undefined|\{|[a-z]{2}[A-Z]/);
};

describe.each(
  CALCULATIONS.map((one) => [one.name === '' ? 'unionisedAmmoniaFraction (total)' : one.name, one] as const),
)('%s', (_name, one) => {
  it('gives a finite answer in its range or a reason, for any finite numbers', () => {
    const mixed = (span: Span) => fc.oneof(anyFinite, inside(span), fc.constantFrom(...span, 0, 1e308, -1e308, 5e-324));
    fc.assert(
      fc.property(record(one.takes, mixed), (values) => expectSound(one, one.answer(values))),
      SEED,
    );
  });

  it('gives no answer when any one number is out of its range, and says which', () => {
    for (const [what, [low, high]] of Object.entries(one.takes)) {
      const outsideIt = anyFinite.filter((value) => value < low || value > high);
      fc.assert(
        fc.property(record(one.takes, inside), outsideIt, (values, value) => {
          const answer = one.answer({ ...values, [what]: value });
          expect(answer).toEqual({ ok: false, fault: { code: 'out-of-range', what, value, low, high } });
        }),
        { ...SEED, numRuns: 200 },
      );
    }
  });

  it('gives no answer when a reading is missing (not a number, or endless)', () => {
    const values = Object.fromEntries(Object.entries(one.takes).map(([what, [low, high]]) => [what, (low + high) / 2]));
    for (const what of Object.keys(one.takes)) {
      for (const broken of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
        const answer = one.answer({ ...values, [what]: broken });
        expect(answer).toEqual({ ok: false, fault: { code: 'not-finite', what } });
      }
    }
  });
});
