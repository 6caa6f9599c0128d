import { describe, expect, test } from 'vitest';
import { animalsFrom, fieldsFrom, textsFrom } from '../../dashboard/state/entry-draft.js';
import { sheetFields } from '../../dashboard/state/sheet-form.js';
import { ENTRY_KIND_NAMES, ENTRY_KINDS } from '../../rules/log/entry.js';
import type { Shape } from '../../rules/log/field.js';
import { fieldLabel } from '../../rules/words/entry-field.js';
import type { Reader } from '../../rules/words/language.js';

const CELSIUS: Reader = { zone: 'UTC', hours: 24, temperatureUnit: 'C' };
const FAHRENHEIT: Reader = { ...CELSIUS, temperatureUnit: 'F' };

describe('what a person types', () => {
  test.each<[string, number | undefined]>([
    ['1.2 million', 1_200_000],
    ['1,2m', 1_200_000],
    ['250k', 250_000],
    ['250 000', 250_000],
    ['1,045,000', 1_045_000],
    ['40', 40],
    ['0', 0],
    ['many', undefined],
    ['', undefined],
    ['-3', undefined],
  ])('%s animals are %s', (text, animals) => {
    expect(animalsFrom(text, CELSIUS)).toBe(animals);
  });

  test('a decimal comma is a decimal, blanks part the subsamples', () => {
    const texts = { '/count/counts': '69  68 72', '/count/subsampleMl': '0,2', '/count/totalL': '3' };
    expect(fieldsFrom(ENTRY_KINDS.count.shape, texts, CELSIUS)).toEqual({
      count: { counts: [69, 68, 72], subsampleMl: 0.2, totalL: 3 },
    });
  });

  test('degrees Fahrenheit are kept as degrees Celsius, and shown again as they were typed', () => {
    const { shape } = ENTRY_KINDS['water-change'];
    const fields = fieldsFrom(shape, { '/sharePct': '50', '/temperatureC': '71.6' }, FAHRENHEIT);
    expect(fields).toEqual({ sharePct: 50, temperatureC: 22 });
    expect(textsFrom(shape, fields, FAHRENHEIT)).toMatchObject({ '/temperatureC': '71.6' });
  });

  test('a hand measurement is in the degrees of the site, and in the unit of what was measured', () => {
    const { shape } = ENTRY_KINDS['hand-measurement'];
    const measured = fieldsFrom(shape, { '/quantity': 'temperature', '/value': '71.6' }, FAHRENHEIT);
    expect(measured).toEqual({ quantity: 'temperature', value: 22 });
    expect(textsFrom(shape, measured, FAHRENHEIT)).toMatchObject({ '/value': '71.6' });
    const salty = fieldsFrom(shape, { '/quantity': 'salinity', '/value': '31,5' }, FAHRENHEIT);
    expect(salty).toEqual({ quantity: 'salinity', value: 31.5 });
  });

  test('a rise of 10 °F is one of 5.56 °C: a difference has no 32', () => {
    const { shape } = ENTRY_KINDS['run-plan'];
    const fields = fieldsFrom(shape, { '/ambientC': '70', '/riseC': '10' }, FAHRENHEIT) as {
      ambientC: number;
      riseC: number;
    };
    expect(fields.ambientC).toBeCloseTo(21.111, 3);
    expect(fields.riseC).toBeCloseTo(5.556, 3);
    expect(textsFrom(shape, fields, FAHRENHEIT)).toMatchObject({ '/ambientC': '70', '/riseC': '10' });
  });

  test('what is no number is left as it was typed, so that the rules refuse it in words', () => {
    const fields = fieldsFrom(ENTRY_KINDS.feeding.shape, { '/volumeL': 'six' }, CELSIUS);
    expect(ENTRY_KINDS.feeding.read(fields, '')).toMatchObject({
      fault: [{ pointer: '/volumeL', code: 'not-a-number' }],
    });
  });

  test('a sheet keeps only what belongs to the end that was chosen', () => {
    const form = {
      texts: { '/end': 'split', '/placeId': 'l2', '/why': 'x', '/dead': '20k' },
      parts: [
        { placeId: 'l1', animals: '1.1m' },
        { placeId: '', animals: '' },
      ],
    };
    expect(sheetFields(form, CELSIUS)).toEqual({
      end: 'split',
      dead: 20_000,
      to: [{ placeId: 'l1', animals: 1_100_000 }],
    });
  });
});

test('every field of every form has a word of its own', () => {
  const namesOf = (shape: Shape): readonly string[] =>
    shape.kind === 'fields'
      ? Object.entries(shape.fields).flatMap(([name, field]) => [name, ...namesOf(field.shape)])
      : shape.kind === 'list'
        ? namesOf(shape.of)
        : [];
  const unsaid = ENTRY_KIND_NAMES.flatMap((kind) => namesOf(ENTRY_KINDS[kind].shape)).filter(
    (name) => fieldLabel(name) === name,
  );
  expect([...new Set(unsaid)].filter((name) => !WRITTEN_BY_PAGES.has(name))).toEqual([]);
});

/** Never asked on a form: the page knows them. */
const WRITTEN_BY_PAGES = new Set([
  'runId',
  'workId',
  'untilMs',
  'except',
  'here',
  'recognised',
  'startedMs',
  'end',
  'hotSupplyId',
]);
