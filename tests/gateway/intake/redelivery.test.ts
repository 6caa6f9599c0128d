import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Delivery } from '../../../gateway/intake/delivery.js';
import { fingerprintOf, isRepeat } from '../../../gateway/intake/redelivery.js';
import { packetMemory } from '../../support/packet-memory.js';

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

describe('a redelivered message', () => {
  test('with the packet id, topic and payload of one that was taken is a repeat', () => {
    expect(
      isRepeat(delivery({ arrivalMs: 1_700_000_009_000 }), packetMemory(delivery({ redelivered: false })).known),
    ).toBe(true);
  });

  test.each([
    ['the broker does not say that it was sent before', { redelivered: false }],
    ['the packet id is another', { packetId: 8 }],
    ['the value is another', { payload: Buffer.from('23.5') }],
    ['the topic is another', { topic: 'tanks/larva-2/temperature' }],
  ])('is a reading of its own when %s', (_when, change) => {
    expect(isRepeat(delivery(change), packetMemory(delivery()).known)).toBe(false);
  });

  test('whose first copy was lost on the way is a reading (MQTT 5.0 section 3.3.1.1)', () => {
    expect(isRepeat(delivery(), packetMemory().known)).toBe(false);
  });

  test('without a packet id (QoS 0, a session not kept) is never a repeat', () => {
    const { packetId: _none, ...unnumbered } = delivery({ qos: 0 });
    expect(isRepeat(unnumbered, () => fingerprintOf(unnumbered))).toBe(false);
  });

  test('is compared with the packet that its id carried last', () => {
    const later = delivery({ payload: Buffer.from('23.5') });
    expect(isRepeat(delivery(), packetMemory(delivery(), later).known)).toBe(false);
    expect(isRepeat(later, packetMemory(delivery(), later).known)).toBe(true);
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
