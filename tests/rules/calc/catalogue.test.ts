import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type {
  Calculation,
  CalculationOption,
  CalculationResult,
  CalculationValue,
  CalculationValues,
} from '../../../rules/calc/calculation.js';
import { CALCULATIONS, calculationNamed } from '../../../rules/calc/catalogue.js';
import { refusalSentence } from '../../../rules/words/refusal.js';

const SEED = 20_260_304;

const required = (name: string): readonly string[] =>
  (calculationNamed(name)?.options ?? []).filter((option) => option.required).map((option) => option.name);

const all = (name: string): readonly string[] => (calculationNamed(name)?.options ?? []).map((option) => option.name);

/** Numbers anywhere in a result. */
const numbersIn = (result: CalculationResult): readonly number[] =>
  [result]
    .flatMap((one) => (typeof one === 'number' ? [one] : Object.values(one)))
    .flatMap((figure) =>
      typeof figure === 'number'
        ? [figure]
        : typeof figure === 'object'
          ? figure.filter((x) => typeof x === 'number')
          : [],
    );

/** Any value, with what a person or a broken program might hand over. */
const anyNumber = ({ low = -1e6, high = 1e6 }: CalculationOption) =>
  fc.oneof(
    { weight: 6, arbitrary: fc.double({ min: low, max: high, noNaN: true }) },
    { weight: 2, arbitrary: fc.constantFrom(low, high, 0, 1) },
    { weight: 1, arbitrary: fc.constantFrom(NaN, Infinity, -Infinity, -1, 1e300, 5e-324) },
  );

const anyValue = (option: CalculationOption): fc.Arbitrary<CalculationValue> => {
  if (option.choices !== undefined) return fc.constantFrom(...option.choices);
  if (option.text === true) return fc.string();
  return option.list === true ? fc.array(anyNumber(option), { maxLength: 6 }) : anyNumber(option);
};

/** Some options given, some left out. */
const anyValues = (calculation: Calculation): fc.Arbitrary<CalculationValues> =>
  fc.tuple(...calculation.options.map((option) => fc.option(anyValue(option), { freq: 8 }))).map((values) =>
    Object.fromEntries(
      calculation.options.flatMap(({ key }, i) => {
        const value = values[i];
        return value === null || value === undefined ? [] : [[key, value] as const];
      }),
    ),
  );

describe('Every calculation says what it needs', () => {
  it('names are words with hyphens, each once', () => {
    const names = CALCULATIONS.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
  });

  it('each has a purpose of one line, a source, and options each once', () => {
    for (const { name, purpose, source, options, unit, labels } of CALCULATIONS) {
      expect(purpose, name).toMatch(/^[A-Za-z].{10,130}\.$/);
      expect(source, name).not.toBe('');
      expect(new Set(options.map((option) => option.name)).size, name).toBe(options.length);
      if (typeof unit === 'object') expect(Object.keys(labels ?? {}), name).toEqual(Object.keys(unit));
    }
  });

  it('what is left out is inside its own range', () => {
    for (const { name, options } of CALCULATIONS) {
      for (const { default: value, low = -Infinity, high = Infinity } of options) {
        if (typeof value !== 'number') continue;
        expect(value, name).toBeGreaterThanOrEqual(low);
        expect(value, name).toBeLessThanOrEqual(high);
      }
    }
  });

  it.each([
    ['practical-salinity', ['conductivity-ms-cm', 'temperature-c'], ['pressure-dbar']],
    ['salinity-from-specific-conductance', ['specific-conductance-ms-cm', 'temperature-c'], []],
    ['oxygen-solubility', ['salinity', 'temperature-c'], ['pressure-kpa']],
    ['oxygen-saturation', ['oxygen-mg-l', 'salinity', 'temperature-c'], ['pressure-kpa']],
    ['density', ['salinity', 'temperature-c'], []],
    ['unionised-ammonia', ['ph', 'salinity', 'temperature-c'], []],
  ])('%s needs %j and takes %j', (name, needs, takes) => {
    expect([...required(name)].sort()).toEqual([...needs].sort());
    for (const option of takes) expect(all(name)).toContain(option);
  });

  it.each(['bed-oxygen-depth', 'feed-volume'])('%s is there', (name) => {
    expect(calculationNamed(name)).toBeDefined();
  });
});

describe('Whatever is typed in, a calculation answers with numbers or with a reason', () => {
  it.each(CALCULATIONS.map((calculation) => [calculation.name, calculation] as const))(
    '%s never gives NaN or infinity, and every refusal has its sentence',
    (_, calculation) => {
      fc.assert(
        fc.property(anyValues(calculation), (values) => {
          const answer = calculation.run(values);
          if (answer.ok) expect(numbersIn(answer.value).every(Number.isFinite)).toBe(true);
          else expect(refusalSentence(answer.fault)).not.toMatch(/There is no answer: |undefined|NaN|\?/);
        }),
        { seed: SEED, numRuns: 150 },
      );
    },
  );

  it.each(CALCULATIONS.map((calculation) => [calculation.name, calculation] as const))(
    '%s refuses by name what lies outside its range',
    (_, calculation) => {
      for (const option of calculation.options) {
        const { low, high, key } = option;
        if (low === undefined || high === undefined) continue;
        for (const beyond of [low - 1, high + 1, NaN]) {
          const values = Object.fromEntries(
            calculation.options.map((one) => [one.key, one === option ? shaped(option, beyond) : middleOf(one)]),
          );
          expect(calculation.run(values), `${key} ${beyond}`).toMatchObject({ ok: false, fault: { what: key } });
        }
      }
    },
  );

  it('a range in the catalogue is never wider than the calculation itself allows', () => {
    // Each published relation of respiration has a narrower range of its own; the catalogue spans both.
    for (const calculation of CALCULATIONS.filter(({ name }) => name !== 'respiration')) {
      fc.assert(
        fc.property(inRange(calculation), (values) => {
          const answer = calculation.run(values);
          if (answer.ok || answer.fault.code !== 'out-of-range') return;
          expect(
            calculation.options.map((option) => option.key),
            calculation.name,
          ).not.toContain(answer.fault.what);
        }),
        { seed: SEED, numRuns: 100 },
      );
    }
  });

  it('a missing figure and a word where a number belongs are refused by name', () => {
    const density = calculationNamed('density');
    expect(density?.run({ salinity: 30 })).toMatchObject({ fault: { code: 'not-finite', what: 'temperatureC' } });
    expect(density?.run({ salinity: 'much', temperatureC: 4 })).toMatchObject({ fault: { what: 'salinity' } });
    const ammonia = calculationNamed('unionised-ammonia');
    expect(ammonia?.run({ ph: 8, salinity: 34, temperatureC: 20, phScale: 'free' })).toMatchObject({
      fault: { because: 'not-a-choice' },
    });
  });

  it('a list that is shorter than its partner is refused, not filled up', () => {
    const sum = calculationNamed('degree-days');
    expect(sum?.run({ thresholdC: 10, days: [7, 7], meanC: [12] })).toMatchObject({ fault: { code: 'not-finite' } });
    expect(sum?.run({ thresholdC: 10, days: [7], meanC: [12, 14] })).toMatchObject({ fault: { code: 'not-finite' } });
  });
});

describe('The beds come out as their equations', () => {
  it('porosity 0.40, transport 5, demand 20, salinity 35, 26 °C and 4.66 mg/L: 1.60 mm (numerical solution of the diffusion equation 1.594)', () => {
    const answer = calculationNamed('bed-oxygen-depth')?.run({
      oxygenMgL: 4.660094,
      temperatureC: 26,
      salinity: 35,
      bedDepthM: 0.1,
      porosity: 0.4,
      cleanDemandMmolM2Day: 20,
      transport: 5,
    });
    if (answer?.ok !== true || typeof answer.value === 'number') throw new Error(JSON.stringify(answer));
    expect(answer.value.midMm).toBeCloseTo(1.598474, 4);
  });
});

const shaped = ({ list }: CalculationOption, number: number): CalculationValue => (list === true ? [number] : number);

const middleOf = ({ low = 0, high = 1, list, choices, text, default: value }: CalculationOption): CalculationValue => {
  if (choices !== undefined || typeof value === 'string') return value ?? '';
  if (text === true) return '';
  return list === true ? [(low + high) / 2] : (value ?? (low + high) / 2);
};

const inRange = (calculation: Calculation) =>
  fc.record(
    Object.fromEntries(
      calculation.options.map((option) => {
        const { low = 0, high = 1, list, choices, text, key } = option;
        const number = fc.oneof(fc.double({ min: low, max: high, noNaN: true }), fc.constantFrom(low, high));
        if (choices !== undefined) return [key, fc.constantFrom<CalculationValue>(...choices)];
        if (text === true) return [key, fc.constant<CalculationValue>('')];
        return [key, list === true ? fc.array(number, { minLength: 1, maxLength: 3 }) : number];
      }),
    ),
  );
