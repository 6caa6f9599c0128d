import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gather, type Sent, type Waiting } from '../../../rules/alerts/gather.js';
import type { Priority } from '../../../rules/conditions/finding.js';

const waiting = (number: number, priority: Priority = 'medium', atMs = 0): Waiting => ({
  id: `m${number}`,
  faultId: `f${number}`,
  atMs,
  priority,
});

/** The outbox in small: each second what waits is gathered and sent. */
const sendFor = (arriving: (second: number) => readonly Waiting[], seconds: number) => {
  let queue: readonly Waiting[] = [];
  const sent: (Sent & { readonly faults: readonly string[] })[] = [];
  for (let second = 0; second < seconds; second += 1) {
    const nowMs = second * 1000;
    queue = [...queue, ...arriving(second)];
    const { own, together } = gather(queue, sent, nowMs);
    sent.push(...own.map(({ faultId }) => ({ atMs: nowMs, kind: 'single' as const, faultId, faults: [faultId] })));
    if (together.length > 0) sent.push({ atMs: nowMs, kind: 'flood', faults: together.map(({ faultId }) => faultId) });
    const gone = new Set([...own, ...together].map(({ id }) => id));
    queue = queue.filter(({ id }) => !gone.has(id));
  }
  return { sent, queue };
};

describe('many findings at once', () => {
  test('five hundred in a minute are a handful of messages, and none is forgotten', () => {
    const { sent, queue } = sendFor(
      (second) => (second < 50 ? Array.from({ length: 10 }, (_, index) => waiting(second * 10 + index)) : []),
      600,
    );
    expect(sent.length).toBeLessThanOrEqual(5);
    expect(queue).toEqual([]);
    expect(new Set(sent.flatMap(({ faults }) => faults)).size).toBe(500);
  });

  test('the worst come first: high before medium, sooner harm before later', () => {
    const few = [waiting(1), waiting(2, 'high'), { ...waiting(3), harmMs: 10 }];
    expect(gather(few, [], 0).own.map(({ id }) => id)).toEqual(['m2', 'm3', 'm1']);
    const many = [...Array.from({ length: 20 }, (_, index) => waiting(index)), waiting(99, 'high')];
    expect(gather(many, [], 0).own[0]?.id).toBe('m99');
  });

  test('three faults are three messages; the same fault’s next step is not held back', () => {
    const sent: Sent[] = ['f1', 'f2', 'f3'].map((faultId) => ({ atMs: 0, kind: 'single', faultId }));
    expect(gather([waiting(1)], sent, 1000).own).toHaveLength(1);
    expect(gather([waiting(4)], sent, 1000).own).toHaveLength(0);
  });

  test('every message that waits is sent by itself, in the summary, or is told when', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(40), { maxLength: 60 }), fc.nat(900), (numbers, seconds) => {
        const queue = [...new Set(numbers)].map((number) => waiting(number, number % 7 === 0 ? 'high' : 'medium'));
        const sent: Sent[] = [{ atMs: 0, kind: 'flood' }];
        const { own, together, againMs } = gather(queue, sent, seconds * 1000);
        const left = queue.length - own.length - together.length;
        return left === 0 ? againMs === undefined : againMs !== undefined && againMs > seconds * 1000;
      }),
      { seed: 20_260_504 },
    );
  });
});
