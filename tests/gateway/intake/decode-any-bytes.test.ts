import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decode } from '../../../gateway/intake/decode.js';
import type { Decoded, Item } from '../../../gateway/intake/decoded.js';

const received = (payload: Uint8Array, topic = 'boards/shed-3/water'): Decoded =>
  decode({ topic, payload, arrivalMs: 1_700_000_000_000 });
const items = (decoded: Decoded): readonly Item[] => (decoded.kind === 'readings' ? decoded.items : []);

describe('whatever the bytes', () => {
  const topic = fc.constantFrom('tanks/t/temperature', 'tanks/t/odd', 'boards/b/x', 'boards/b/status', 'x', '');
  const field = fc.constantFrom('bn', 'bt', 'bu', 'bv', 'bs', 'bver', 'n', 'u', 'v', 'vs', 'vb', 'vd', 's', 't', 'ut');
  const number = fc.oneof(fc.double(), fc.integer(), fc.constantFrom(0, -0, 2 ** 28, 1e308, -1e308));
  const pack = fc
    .array(fc.dictionary(field, fc.oneof(number, fc.constantFrom('a', 'Cel', '%', true, null))), { maxLength: 5 })
    .map((records) => JSON.stringify(records));
  const text = fc
    .oneof(fc.string({ unit: 'binary' }), fc.json(), pack, number.map(String))
    .map((sent) => Buffer.from(sent));
  const cbor = fc
    .uint8Array({ maxLength: 200 })
    .map((tail) => Buffer.concat([Buffer.from([0x81, 0xa2, 0, 0x61, 0x61, 2]), tail]));
  const bytes = fc.oneof(
    fc.uint8Array({ maxLength: 300 }).map((all) => Buffer.from(all)),
    text,
    cbor,
  );

  test('decoding never throws, and every reading is a number with a key of its topic', () => {
    fc.assert(
      fc.property(topic, bytes, (to, payload) => {
        for (const item of items(received(payload, to))) {
          expect(Number.isFinite(item.raw) && !Object.is(item.raw, -0)).toBe(true);
          expect(item.key === to || item.key.startsWith(`${to}#`)).toBe(true);
          if (item.time !== undefined) expect(Number.isSafeInteger(item.time.deviceMs)).toBe(true);
        }
      }),
      { seed: 20_300_501, numRuns: 5000 },
    );
  });

  test('one flipped bit in a good pack never throws', () => {
    const good = Buffer.from('81a52163 74312f00 6474656d 70016343 656c02f9 4d200638 1d'.replaceAll(' ', ''), 'hex');
    for (let bit = 0; bit < good.length * 8; bit += 1) {
      const bad = Buffer.from(good);
      bad[bit >> 3] = (bad[bit >> 3] ?? 0) ^ (1 << (bit & 7));
      expect(() => received(bad)).not.toThrow();
    }
  });
});
