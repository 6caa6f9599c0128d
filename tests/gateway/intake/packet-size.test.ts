import { Duplex, Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boundPackets, cutMessage } from '../../../gateway/intake/packet-size.js';

const CUT_ABOVE = 1000;

const lengthBytes = (value: number): number[] =>
  value < 128 ? [value] : [(value % 128) | 0x80, ...lengthBytes(Math.floor(value / 128))];

/** [MQTT 3.1.1 section 3.3] */
const publish = (topic: string, payload: Buffer, qos: 0 | 1): Buffer => {
  const name = Buffer.from(topic);
  const body = Buffer.concat([Buffer.from([0, name.length]), name, Buffer.from(qos === 0 ? [] : [0, 9]), payload]);
  return Buffer.concat([Buffer.from([0x30 | (qos << 1), ...lengthBytes(body.length)]), body]);
};

/** What comes out when the bytes arrive in pieces of these sizes. */
const through = (bytes: Buffer, sizes: readonly number[]): Promise<Buffer> => {
  const pieces: Buffer[] = [];
  for (let at = 0, next = 0; at < bytes.length; next += 1) {
    const size = sizes[next % sizes.length] ?? 1;
    pieces.push(bytes.subarray(at, at + size));
    at += size;
  }
  const connection = Duplex.from({ readable: Readable.from(pieces, { objectMode: false }) });
  return buffer(boundPackets(connection, CUT_ABOVE));
};

const topic = fc.string({ unit: 'grapheme-ascii', maxLength: 60 });
const message = fc.record({
  topic,
  payload: fc.integer({ min: 0, max: 3000 }).map((size) => Buffer.alloc(size, 'x')),
  qos: fc.constantFrom(0 as const, 1 as const),
});
const sizes = fc.array(fc.integer({ min: 1, max: 700 }), { minLength: 1, maxLength: 6 });

describe('packets on their way into the broker', () => {
  test('pass unchanged up to the limit and are cut above it, however the network splits them', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(message, { maxLength: 8 }), sizes, async (messages, split) => {
        const sent = messages.map((each) => publish(each.topic, each.payload, each.qos));
        const expected = messages.map((each, at) => {
          const whole = sent[at] ?? Buffer.alloc(0);
          if (whole.length <= CUT_ABOVE) return whole;
          return publish(`$too-large/${each.payload.length}/${each.topic}`, each.payload.subarray(0, 200), each.qos);
        });
        expect(await through(Buffer.concat(sent), split)).toEqual(Buffer.concat(expected));
      }),
      { seed: 20_300_501 },
    );
  });

  test('that are overlong and carry no message end the connection', async () => {
    const subscribe = Buffer.concat([Buffer.from([0x82, ...lengthBytes(5000)]), Buffer.alloc(5000)]);
    await expect(through(subscribe, [100])).rejects.toThrow('too large');
  });

  test('with a length that is none end the connection', async () => {
    await expect(through(Buffer.from([0x30, 0xff, 0xff, 0xff, 0xff, 0x01]), [1])).rejects.toThrow('broken');
  });
});

describe('a cut message', () => {
  test('tells its size and its topic', () => {
    expect(cutMessage('$too-large/300000/boards/shed-3/water')).toEqual({
      bytes: 300_000,
      topic: 'boards/shed-3/water',
    });
  });

  test('is not one of a board’s own topics', () => {
    expect(cutMessage('boards/$too-large/1/x')).toBeUndefined();
  });
});
