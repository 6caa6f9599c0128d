import { describe, expect, it } from 'vitest';
import { nameFrom, newPlaceName } from '../../dashboard/state/naming.js';
import { formOf, placeOfForm } from '../../dashboard/state/place-form.js';
import type { Place } from '../../rules/place.js';
import { typedNumber } from '../../rules/words/figure.js';
import { READER, tank } from '../support/sample-picture.js';

const L2: Place = {
  id: 'l2',
  kind: 'tank',
  name: 'L2',
  order: 1,
  lineId: 'larval',
  volumeL: 400,
  stage: 'larva',
  aerated: true,
  wants: { temperature: { limitHigh: 30, deadband: 0.2 }, ph: { limitLow: 7.6 } },
};

describe('the form of a place', () => {
  it('gives back the same place when nothing is changed, with what it does not show', () => {
    const made = placeOfForm(L2, formOf(L2, READER), READER);
    expect(made.ok && made.value).toEqual(L2);
  });

  it('reads and writes degrees Fahrenheit where a site counts in them', () => {
    const fahrenheit = { ...READER, temperatureUnit: 'F' } as const;
    const form = formOf(L2, fahrenheit);
    expect(form.lines['temperature.limitHigh']).toBe('86');
    const made = placeOfForm(L2, { ...form, lines: { ...form.lines, 'temperature.limitHigh': '89.6' } }, fahrenheit);
    expect(made.ok && made.value.wants?.temperature?.limitHigh).toBeCloseTo(32, 10);
  });

  it('moves no line that nobody touched, however few decimals of a degree Fahrenheit it shows', () => {
    const fahrenheit = { ...READER, temperatureUnit: 'F' } as const;
    const odd = { ...L2, wants: { temperature: { targetHigh: 24.123, limitHigh: 27.317, deadband: 0.2 } } };
    const form = formOf(odd, fahrenheit);
    const made = placeOfForm(odd, { ...form, lines: { ...form.lines, 'temperature.ceilingHigh': '90' } }, fahrenheit);
    expect(made.ok && made.value.wants?.temperature).toMatchObject({ targetHigh: 24.123, limitHigh: 27.317 });
  });

  it('takes away a line of its own when the field is emptied, and keeps its deadband', () => {
    const form = formOf(L2, READER);
    const made = placeOfForm(L2, { ...form, lines: { ...form.lines, 'temperature.limitHigh': ' ' } }, READER);
    expect(made.ok && made.value.wants?.temperature).toEqual({ deadband: 0.2 });
  });

  it('says which field is no number, and keeps nothing', () => {
    const made = placeOfForm(L2, { ...formOf(L2, READER), volumeL: '4oo' }, READER);
    expect(made.ok ? [] : made.fault).toEqual([
      { field: 'volumeL', detail: '“4oo” is not a number: write digits only, as in 12.5.' },
    ]);
  });

  it('refuses lines that are not from lowest to highest', () => {
    const form = formOf(L2, READER);
    const lines = { ...form.lines, 'temperature.targetHigh': '31' };
    expect(placeOfForm(L2, { ...form, lines }, READER).ok).toBe(false);
  });

  it.each([
    ['', undefined],
    ['0', 0],
    ['21,5', 21.5],
    [' -1.2 ', -1.2],
    ['x', null],
    ['Infinity', null],
  ])('reads “%s” as %s', (text, value) => {
    expect(typedNumber(text, READER)).toBe(value);
  });
});

describe('naming a source', () => {
  const places = [tank('l2', { name: 'L2' }), tank('north', { kind: 'line', name: 'North line' })];
  it('finds a tank by its name in any case, or by its id', () => {
    expect(nameFrom(' l2 ', places)).toEqual({ id: 'l2' });
    expect(nameFrom('NORTH LINE', places)).toEqual({ id: 'north' });
    expect(newPlaceName('L2', places)).toBeUndefined();
  });

  it('offers to add a tank that is not there', () => {
    expect(nameFrom('L9', places)).toEqual({ name: 'L9' });
    expect(newPlaceName(' L9 ', places)).toBe('L9');
    expect(newPlaceName('  ', places)).toBeUndefined();
  });
});
