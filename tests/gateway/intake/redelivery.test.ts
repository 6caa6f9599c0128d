import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Delivery } from '../../../gateway/intake/delivery.js';
import { fingerprintOf, isRepeat, packetOf, recallPackets } from '../../../gateway/intake/redelivery.js';

const delivery = (change: Partial<Delivery> = {}): Delivery => ({
  topic: 'tanks/larva-1/temperature',
  payload: Buffer.from('23.4'),
  qos: 1,
  retained: false,
  redelivered: true,
  packetId: 7,
  arrivalMs: 1_700_000_000_000,
  ...change,
});

const taken = (first: Delivery) => {
  const packet = packetOf(first);
  return recallPackets(packet === undefined ? [] : [packet]).known;
};

describe('a redelivered message', () => {
  test('with the packet id, topic and payload of one that was taken is a repeat', () => {
    expect(isRepeat(delivery({ arrivalMs: 1_700_000_009_000 }), taken(delivery({ redelivered: false })))).toBe(true);
  });

  test.each([
    ['the broker does not say that it was sent before', { redelivered: false }],
    ['the packet id is another', { packetId: 8 }],
    ['the value is another', { payload: Buffer.from('23.5') }],
    ['the topic is another', { topic: 'tanks/larva-2/temperature' }],
  ])('is a reading of its own when %s', (_when, change) => {
    expect(isRepeat(delivery(change), taken(delivery()))).toBe(false);
  });

  test('whose first copy was lost on the way is a reading (MQTT 5.0 section 3.3.1.1)', () => {
    expect(isRepeat(delivery(), recallPackets([]).known)).toBe(false);
  });

  test('at QoS 0 there is none, and nothing is kept for it', () => {
    const { packetId: _none, ...unnumbered } = delivery({ qos: 0 });
    expect(packetOf(unnumbered)).toBeUndefined();
    expect(isRepeat(unnumbered, () => undefined)).toBe(false);
  });
});

describe('the memory of packets', () => {
  test('forgets the oldest beyond its limit', () => {
    const memory = recallPackets([], 2);
    for (const packetId of [1, 2, 1, 3]) memory.remember({ packetId, fingerprint: `f${packetId}` });
    expect([1, 2, 3].map(memory.known)).toEqual(['f1', undefined, 'f3']);
  });

  test('an id that is used again stands for its latest packet only', () => {
    const memory = recallPackets([{ packetId: 1, fingerprint: 'first' }]);
    memory.remember({ packetId: 1, fingerprint: 'second' });
    expect(memory.known(1)).toBe('second');
  });
});

test('two messages that differ in topic or payload have different fingerprints', () => {
  const message = fc.record({ topic: fc.string(), payload: fc.uint8Array({ maxLength: 20 }) });
  fc.assert(
    fc.property(message, message, (a, b) => {
      const same = a.topic === b.topic && Buffer.from(a.payload).equals(b.payload);
      expect(fingerprintOf(a) === fingerprintOf(b)).toBe(same);
    }),
    { seed: 20_300_501 },
  );
  expect(fingerprintOf({ topic: 'ab', payload: Buffer.from('c') })).not.toBe(
    fingerprintOf({ topic: 'a', payload: Buffer.from('bc') }),
  );
});
