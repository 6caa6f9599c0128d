import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { QUANTITIES } from '../../../rules/quantity.js';
import {
  canonicalValue,
  lineWords,
  numberWords,
  rateWords,
  shortWords,
  shownValue,
  spanWords,
  spokenWords,
  valueWords,
} from '../../../rules/words/number.js';

const C = { temperatureUnit: 'C' } as const;
const F = { temperatureUnit: 'F' } as const;

describe('numbers as people read them', () => {
  it.each([
    ['temperature', 29.94, '29.9 °C'],
    ['temperature', 30, '30.0 °C'],
    ['oxygen-saturation', 73.6, '74 %'],
    ['oxygen-mg-l', 0, '0.0 mg/L'],
    ['salinity', 29.24, '29.2 ppt'],
    ['ph', 7.9, 'pH 7.90'],
    ['contact', 0, 'off'],
    ['contact', 1, 'on'],
    ['temperature', -0.04, '0.0 °C'],
  ] as const)('%s of %d is %s', (quantity, value, words) => {
    expect(valueWords(quantity, value, C)).toBe(words);
  });

  it('are in degrees Fahrenheit where a site counts in them: 100 °C is 212 °F', () => {
    expect(valueWords('temperature', 100, F)).toBe('212.0 °F');
    expect(valueWords('temperature', -40, F)).toBe('-40.0 °F');
    expect(valueWords('salinity', 29.2, F)).toBe('29.2 ppt');
  });

  it('change at 1.8 °F an hour where water warms by 1 °C an hour, without the 32', () => {
    expect(rateWords('temperature', 1, F)).toBe('1.8 °F an hour');
    expect(rateWords('temperature', -2.9, C)).toBe('2.9 °C an hour');
    expect(rateWords('oxygen-saturation', -14, C)).toBe('14.0 % an hour');
  });

  it('say a line without decimals that it does not need', () => {
    expect(lineWords('temperature', 32, C)).toBe('32 °C');
    expect(lineWords('temperature', 18.3, C)).toBe('18.3 °C');
    expect(lineWords('ph', 7.6, C)).toBe('pH 7.6');
    expect(lineWords('oxygen-saturation', 80, C)).toBe('80 %');
    expect(lineWords('temperature', 0, C)).toBe('0 °C');
  });

  it('say a span, or the one side that it has', () => {
    expect(spanWords('temperature', 18.3, 23.9, C)).toBe('18.3 to 23.9 °C');
    expect(spanWords('oxygen-saturation', 80, undefined, C)).toBe('at least 80 %');
    expect(spanWords('temperature', undefined, 0, C)).toBe('at most 0 °C');
    expect(spanWords('temperature', undefined, undefined, C)).toBeUndefined();
  });

  it('are short on the wall and spelled out for a voice', () => {
    expect(shortWords('temperature', 21.2, C)).toBe('21.2°');
    expect(numberWords('oxygen-saturation', 74, C)).toBe('74');
    expect(spokenWords('oxygen-mg-l', 4.1, C)).toBe('4.1 milligrams per litre');
  });

  it('come back as they were from a form', () => {
    fc.assert(
      fc.property(fc.constantFrom(...QUANTITIES), fc.double({ min: -50, max: 150, noNaN: true }), (quantity, value) => {
        expect(canonicalValue(quantity, shownValue(quantity, value, F), F)).toBeCloseTo(value, 9);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
