import { describe, expect, test } from 'vitest';
import { decode } from '../../../gateway/intake/decode.js';
import type { Decoded, Item, Oddity } from '../../../gateway/intake/decoded.js';

const ARRIVAL_MS = 1_700_000_000_000;
const TOPIC = 'boards/shed-3/water';

const received = (payload: string | Uint8Array, topic = TOPIC): Decoded =>
  decode({ topic, payload: typeof payload === 'string' ? Buffer.from(payload) : payload, arrivalMs: ARRIVAL_MS });

const items = (decoded: Decoded): readonly Item[] => (decoded.kind === 'readings' ? decoded.items : []);
const oddities = (decoded: Decoded): readonly Oddity[] => (decoded.kind === 'readings' ? decoded.oddities : []);
const raws = (decoded: Decoded): Readonly<Record<string, number>> =>
  Object.fromEntries(items(decoded).map(({ key, raw }) => [key, raw]));
const codeOf = (decoded: Decoded): string => (decoded.kind === 'malformed' ? decoded.code : decoded.kind);

describe('a SenML pack', () => {
  test('names its sources by name and stated unit, oldest first', () => {
    const decoded = received('[{"bn":"tank4/","n":"temp","u":"Cel","v":20.5},{"n":"temp","u":"Cel","v":20.4,"t":-30}]');
    expect(items(decoded)).toEqual([
      {
        key: `${TOPIC}#tank4/temp@Cel`,
        topic: TOPIC,
        pointer: 'tank4/temp',
        board: 'shed-3',
        statedUnit: 'Cel',
        raw: 20.4,
        time: { kind: 'aged', deviceMs: ARRIVAL_MS - 30_000, resolutionMs: 1000 },
      },
      {
        key: `${TOPIC}#tank4/temp@Cel`,
        topic: TOPIC,
        pointer: 'tank4/temp',
        board: 'shed-3',
        statedUnit: 'Cel',
        raw: 20.5,
      },
    ]);
  });

  test('keeps the stamp of the board to the millisecond', () => {
    expect(items(received('[{"n":"a","bt":1276020076.001,"v":1,"ut":90}]'))[0]).toMatchObject({
      time: { kind: 'stamped', deviceMs: 1_276_020_076_001, resolutionMs: 1 },
      nextWithinMs: 90_000,
    });
  });

  test.each([
    ['mV', 'mV', ['unit-not-senml']],
    ['mg/L', 'mg/L', ['unit-not-senml']],
    ['hPa', 'hPa', ['unit-not-senml']],
    ['furlong', 'furlong', ['unknown-unit']],
    ['%', '/', ['percent-is-ratio']],
    ['kg/m3', 'kg/m3', []],
  ])('takes the unit %s as %s', (sent, stated, codes) => {
    const decoded = received(`[{"n":"a","u":"${sent}","v":0.98}]`);
    expect(items(decoded)).toMatchObject([{ statedUnit: stated, key: `${TOPIC}#a@${stated}`, raw: 0.98 }]);
    expect(oddities(decoded).map(({ code }) => code)).toEqual(codes);
  });

  test('a switch is 1 or 0; texts, binary values and sums are counted and not taken', () => {
    const decoded = received('[{"n":"open","vb":true},{"n":"l","vs":"x"},{"n":"d","vd":"aGk"},{"n":"flow","s":5}]');
    expect(raws(decoded)).toEqual({ [`${TOPIC}#open`]: 1 });
    expect(oddities(decoded)).toEqual([
      { code: 'text-ignored', parameters: { where: 'l' }, count: 2 },
      { code: 'sum-ignored', parameters: { where: 'flow' }, count: 1 },
    ]);
  });

  test('reads the same from CBOR as from JSON', () => {
    // [{-2: "t1/", 0: "temp", 1: "Cel", 2: 20.5, 6: -30}]
    const cbor = Buffer.from('81a52163 74312f00 6474656d 70016343 656c02f9 4d200638 1d'.replaceAll(' ', ''), 'hex');
    expect(received(cbor)).toEqual(received('[{"bn":"t1/","n":"temp","u":"Cel","v":20.5,"t":-30}]'));
  });

  test.each([
    ['[]', 'senml-pack-empty'],
    ['[1]', 'senml-record-not-object'],
    ['[{"v":1}]', 'senml-name-missing'],
    ['[{"n":"tank 4","v":1}]', 'senml-name'],
    ['[{"n":"a","v":null}]', 'senml-wrong-type'],
    ['[{"n":"a","n":"b","v":1}]', 'json-duplicate-key'],
    ['[{"bv":1.7e308,"n":"a","v":1.7e308}]', 'number-not-finite'],
    [`[${'{"n":"a","v":1},'.repeat(1000)}{"n":"a","v":1}]`, 'too-many-records'],
    ['[{"n":"a","v":1}', 'json-broken'],
  ])('is refused when wrong or beyond the limits (case %#)', (sent, code) => {
    expect(codeOf(received(sent))).toBe(code);
  });
});
