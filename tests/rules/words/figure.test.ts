import { describe, expect, it } from 'vitest';
import { animalsWords, tallyWords } from '../../../rules/words/animals.js';
import { CHECK_CODES, checkSentence } from '../../../rules/words/check.js';
import { figureWords, typedFigure } from '../../../rules/words/degrees.js';
import { entryFaultSentence } from '../../../rules/words/entry-fault.js';
import { fixedWords, groupedWords, noNumberSentence, plainWords, typedNumber } from '../../../rules/words/figure.js';
import { lineWords, rateWords, valueWords } from '../../../rules/words/number.js';
import { refusalSentence } from '../../../rules/words/refusal.js';

const POINT = { temperatureUnit: 'C', decimalMark: 'point' } as const;
const COMMA = { temperatureUnit: 'F', decimalMark: 'comma' } as const;

describe('a number, as a site writes it', () => {
  it('has a point, or a comma where the site reads one', () => {
    expect(fixedWords(29.94, 1, POINT)).toBe('29.9');
    expect(fixedWords(29.94, 1, COMMA)).toBe('29,9');
    expect(fixedWords(-0.04, 1, COMMA)).toBe('0,0');
    expect(plainWords(6.38655, 4, COMMA)).toBe('6,387');
    expect(lineWords('salinity', 30, COMMA)).toBe('30 ppt');
    expect(lineWords('temperature', 18.3, COMMA)).toBe('64,9 °F');
    expect(valueWords('ph', 7.9, COMMA)).toBe('pH 7,90');
    expect(rateWords('temperature', 1, COMMA)).toBe('1,8 °F an hour');
  });

  /** Where the comma is the decimal mark a thin space parts thousands (SI brochure, 5.4.4). */
  it('parts thousands by what is not its decimal mark', () => {
    expect(groupedWords(1_203_500, POINT)).toBe('1,203,500');
    expect(groupedWords(1_203_500, COMMA)).toBe('1\u202f203\u202f500');
    expect(animalsWords(1_250_000, COMMA)).toBe('1,25 million');
    expect(tallyWords({ animals: 950, low: 900, high: 1010 }, COMMA)).toBe('950 (900 to 1\u202f010)');
  });

  it.each([
    ['21,5', 21.5, 21.5],
    ['21.5', 21.5, 21.5],
    ['-1.25', -1.25, -1.25],
    ['−1', -1, -1],
    ['1 200', 1200, 1200],
    ['0,125', 0.125, 0.125],
    ['1e6', 1e6, 1e6],
    ['1,200', null, 1.2],
    ['1.200', 1.2, null],
    ['12,345,678', null, null],
    ['0x10', null, null],
    ['12 %', null, null],
    ['', undefined, undefined],
  ])('“%s” is read as %s where the point is the mark, and as %s where the comma is', (text, point, comma) => {
    expect(typedNumber(text, POINT)).toBe(point);
    expect(typedNumber(text, COMMA)).toBe(comma);
  });

  it('says what to do with one that could be two', () => {
    expect(noNumberSentence('1,200', POINT)).toBe(
      '“1,200” can be read in two ways: write the thousands without a mark.',
    );
    expect(noNumberSentence('much', COMMA)).toBe('“much” is not a number: write digits only, as in 12,5.');
  });
});

describe('a figure of a sum, in the degrees of the site', () => {
  it.each([
    ['temperatureC', '°C', 20, '68 °F'],
    ['riseC', '°C', 10, '18 °F'],
    ['riseCPerH', '°C/h', 2.5, '4,5 °F/h'],
    ['degreeDays', '°C days', 100, '180 °F days'],
    ['compensationPctPerC', '%/°C', 1.8, '1 %/°F'],
    ['targetSalinity', '1', 29.5, '29,5 ppt'],
    ['animals', '1', 12, '12'],
    ['heatCapacityKjKgK', 'kJ/(kg K)', 3.99, '3,99 kJ/(kg K)'],
  ])('%s in %s: %s is %s, and comes back as it was', (key, unit, value, words) => {
    expect(figureWords({ key, unit }, value, 4, COMMA)).toBe(words);
    const shown = typedNumber(words.split(' ')[0] ?? '', COMMA) ?? Number.NaN;
    expect(typedFigure(key, unit, shown, COMMA)).toBeCloseTo(value, 9);
  });
});

describe('what is wrong', () => {
  it('is said in the degrees and numbers of the site', () => {
    expect(
      refusalSentence({ code: 'out-of-range', what: 'temperatureC', value: 51.25, low: -2, high: 45 }, COMMA),
    ).toBe('The temperature is 124,25 °F; there is an answer only from 28,4 to 113 °F.');
    expect(refusalSentence({ code: 'out-of-range', what: 'riseC', value: 40, low: 0, high: 30 }, COMMA)).toBe(
      'The rise is 72 °F; there is an answer only from 0 to 54 °F.',
    );
    const plan = { code: 'impossible', because: 'plan-above-ceiling', with: { peakC: 31.5, ceilingC: 30 } } as const;
    expect(refusalSentence(plan, COMMA)).toMatch(/^The plan goes up to 88,7 °F, above the ceiling of 86 °F\./);
    expect(refusalSentence(plan)).toMatch(/^The plan goes up to 31\.5 °C, above the ceiling of 30 °C\./);
  });

  it('names the field of an entry as the form does, what can be, and its unit', () => {
    const range = { value: 90.5, low: -2, high: 45, unit: '°C' };
    const fault = { pointer: '/fields/temperatureC', code: 'out-of-range', with: range };
    expect(entryFaultSentence(fault)).toBe('Temperature: 90.5 is outside of what can be; give -2 to 45 °C.');
    expect(entryFaultSentence(fault, COMMA)).toBe('Temperature: 194,9 is outside of what can be; give 28,4 to 113 °F.');
    expect(entryFaultSentence({ pointer: '/fields/count/counts/1', code: 'not-whole', with: { value: 6.5 } })).toBe(
      'Counted in the subsamples: 6.5 has to be a whole number.',
    );
    expect(entryFaultSentence({ pointer: '/fields/volumeL', code: 'missing' })).toBe(
      'Volume: this is missing; fill it in.',
    );
  });

  it('is mended at a rate that the site can read', () => {
    for (const code of CHECK_CODES) expect(checkSentence(code, COMMA)).not.toMatch(/°C|\d\.\d|[{}]/);
    expect(checkSentence('warm-slowly', COMMA)).toBe('Warm slowly, at most 3,6 °F an hour');
  });
});
