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

describe('a bare number', () => {
  test.each([
    ['23.4', 23.4],
    ['23.4\n', 23.4],
    [' 23.4 \r\n', 23.4],
    ['-1.8', -1.8],
    ['0', 0],
    ['-0', 0],
    ['1e-3', 0.001],
    ['007.5', 7.5],
  ])('%j is %d', (sent, raw) => {
    expect(received(sent, 'tanks/larva-1/temperature')).toEqual({
      kind: 'readings',
      items: [{ key: 'tanks/larva-1/temperature', topic: 'tanks/larva-1/temperature', raw }],
      oddities: [],
    });
  });

  test.each([
    ['23,4', 'decimal-comma'],
    ['23.4C', 'number-with-unit'],
    ['23.4 °C', 'number-with-unit'],
    ['nan', 'number-not-finite'],
    ['NaN', 'number-not-finite'],
    ['inf', 'number-not-finite'],
    ['-Infinity', 'number-not-finite'],
    ['1e400', 'number-not-finite'],
    ['0x17', 'not-a-number'],
    ['-', 'not-a-number'],
    ['+5', 'not-a-number'],
    ['.5', 'not-a-number'],
    ['5.', 'not-a-number'],
    ['1 2', 'not-a-number'],
    ['1,234.5', 'not-a-number'],
    ['   ', 'not-a-number'],
    ['true', 'not-a-number'],
    ['"23.4"', 'not-a-number'],
  ])('%j is refused, not guessed', (sent, code) => {
    expect(codeOf(received(sent))).toBe(code);
  });

  test('is of the board that its topic names', () => {
    expect(items(received('1'))[0]?.board).toBe('shed-3');
  });
});

describe('an empty message', () => {
  test('is not a zero: it only clears what the broker kept', () => {
    expect(received('', 'tanks/larva-1/temperature')).toEqual({ kind: 'empty' });
    expect(received('', 'boards/shed-3/status')).toEqual({ kind: 'empty' });
  });
});

describe('a JSON object', () => {
  test('is one source a number, named by its pointer (RFC 6901 section 5)', () => {
    expect(raws(received('{"temp":23.4,"probe":{"a/b":1,"m~n":2},"":3,"list":[4,5]}'))).toEqual({
      [`${TOPIC}#/temp`]: 23.4,
      [`${TOPIC}#/probe/a~1b`]: 1,
      [`${TOPIC}#/probe/m~0n`]: 2,
      [`${TOPIC}#/`]: 3,
      [`${TOPIC}#/list/0`]: 4,
      [`${TOPIC}#/list/1`]: 5,
    });
  });

  test('a switch is 1 or 0', () => {
    expect(raws(received('{"mains":true,"float":false}'))).toEqual({ [`${TOPIC}#/mains`]: 1, [`${TOPIC}#/float`]: 0 });
  });

  test('a number written as a text is taken and counted', () => {
    const decoded = received('{"temp":"23.4","sal":" 31 "}');
    expect(raws(decoded)).toEqual({ [`${TOPIC}#/temp`]: 23.4, [`${TOPIC}#/sal`]: 31 });
    expect(oddities(decoded)).toEqual([{ code: 'number-as-text', parameters: { where: '/temp' }, count: 2 }]);
  });

  test('a missing value, a text and a number without end give no reading and are counted; the others stand', () => {
    const decoded = received('{"a":null,"b":"23,4","c":1e400,"d":0}');
    expect(raws(decoded)).toEqual({ [`${TOPIC}#/d`]: 0 });
    expect(oddities(decoded).map(({ code }) => code)).toEqual(['value-missing', 'text-ignored', 'value-not-finite']);
  });

  test.each([
    ['{"v":1,"ts":1700000000}', 1_700_000_000_000, 1000],
    ['{"v":1,"time":1700000000123}', 1_700_000_000_123, 1],
    ['{"v":1,"timestamp":1700000000.5}', 1_700_000_000_500, 1],
    ['{"v":1,"ts":99999999999}', 99_999_999_999_000, 1000],
    ['{"v":1,"ts":100000000000}', 100_000_000_000, 1],
    ['{"v":1,"ts":"1700000000"}', 1_700_000_000_000, 1000],
    ['{"v":1,"ts":"2023-11-14T22:13:20Z"}', 1_700_000_000_000, 1000],
    ['{"v":1,"ts":"2023-11-14T23:13:20.250+01:00"}', 1_700_000_000_250, 1],
    ['{"v":1,"ts":"2023-11-14 23:13:20+0100"}', 1_700_000_000_000, 1000],
    ['{"v":1,"ts":0}', 0, 1000],
  ])('%s is stamped at %i', (sent, deviceMs, resolutionMs) => {
    expect(items(received(sent))).toEqual([
      expect.objectContaining({ pointer: '/v', time: { kind: 'stamped', deviceMs, resolutionMs } }),
    ]);
  });

  test.each([
    '{"v":1,"ts":"2023-11-14T22:13:20"}',
    '{"v":1,"ts":"yesterday"}',
    '{"v":1,"ts":"2023-02-30T00:00:00Z"}',
    '{"v":1,"ts":"2023-13-01T00:00:00Z"}',
    '{"v":1,"ts":null}',
    '{"v":1,"ts":1e300}',
  ])('keeps the reading of %s, without a time and with a word about it', (sent) => {
    const decoded = received(sent);
    expect(items(decoded)[0]).not.toHaveProperty('time');
    expect(oddities(decoded).map(({ code }) => code)).toEqual(['time-not-understood']);
  });

  test.each([
    ['{"temp":23.4', 'json-broken'],
    ['{"temp":nan}', 'json-broken'],
    ['{"temp":23.4}{"temp":23.5}', 'json-broken'],
    ['{"a":1,"b":{"c":1,"c":2}}', 'json-duplicate-key'],
    ['{"a":1,"\\u0061":2}', 'json-duplicate-key'],
    ['{"a":{"b":{"c":{"d":{"e":1}}}}}', 'too-deep'],
    [`{"a":${'['.repeat(30_000)}${']'.repeat(30_000)}}`, 'too-deep'],
    [`{"a":[${'1,'.repeat(1000)}1]}`, 'too-many-records'],
  ])('is refused when broken or beyond the limits (case %#)', (sent, code) => {
    expect(codeOf(received(sent))).toBe(code);
  });

  test('keys alike in different objects, and texts that look like keys, are no duplicates', () => {
    expect(items(received('{"a":{"x":1},"b":{"x":2},"c":["x","x"],"d":"{\\"a\\":1,\\"a\\":2}"}'))).toHaveLength(2);
  });

  test('exactly a thousand values and four levels are read', () => {
    expect(items(received(`{"a":[${'1,'.repeat(999)}1]}`))).toHaveLength(1000);
    expect(items(received('{"a":{"b":{"c":{"d":1}}}}'))).toHaveLength(1);
  });
});

describe('the status of a board', () => {
  test.each([
    ['online', true],
    ['offline\n', false],
  ])('%j is understood', (sent, online) => {
    expect(received(sent, 'boards/shed-3/status')).toEqual({ kind: 'status', board: 'shed-3', online });
  });

  test('anything else is refused', () => {
    expect(codeOf(received('asleep', 'boards/shed-3/status'))).toBe('status-not-understood');
  });
});

describe('a message that cannot be read', () => {
  test('of more than 64 KiB is refused unread, with its size', () => {
    expect(received(Buffer.alloc(64 * 1024 + 1, '1'))).toEqual({
      kind: 'malformed',
      code: 'payload-too-large',
      parameters: { bytes: 65_537, limit: 65_536 },
    });
  });

  test('that is no text is refused', () => {
    expect(codeOf(received(Uint8Array.of(0xff, 0xfe)))).toBe('not-utf8');
  });

  test('that the broker refused already stays refused', () => {
    const refusal = { code: 'topic-not-own', parameters: { board: 'shed-3', topic: 'boards/shed-4/t' } } as const;
    expect(decode({ topic: 'boards/shed-4/t', payload: Buffer.from('1'), arrivalMs: ARRIVAL_MS, refusal })).toEqual({
      kind: 'malformed',
      ...refusal,
    });
  });
});

describe('a topic with a quantity that nobody knows', () => {
  test('is a source all the same, with a word about it', () => {
    const decoded = received('20', 'tanks/larva-1/temp');
    expect(items(decoded)).toHaveLength(1);
    expect(oddities(decoded)).toEqual([{ code: 'unknown-quantity', parameters: { word: 'temp' }, count: 1 }]);
  });
});
