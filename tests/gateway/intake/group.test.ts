import { expect, test, vi } from 'vitest';
import type { Delivery } from '../../../gateway/intake/delivery.js';
import { groupDeliveries } from '../../../gateway/intake/group.js';

const delivery = (at: number): Delivery => ({
  topic: 'boards/shed-3/water',
  payload: Buffer.from(String(at)),
  qos: 1,
  retained: false,
  redelivered: false,
  arrivalMs: at,
});

test('a burst is taken in groups of no more than the most, in order, and the rest when its first has waited', async () => {
  const groups: number[][] = [];
  const outcome = await new Promise<readonly (Error | undefined)[]>((resolve) => {
    const outcomes: (Error | undefined)[] = [];
    const group = groupDeliveries({
      take: (taken) => groups.push(taken.map(({ arrivalMs }) => arrivalMs)),
      settled: (failure) => {
        outcomes.push(failure);
        if (outcomes.length === 3) resolve(outcomes);
      },
      most: 2,
    });
    for (const at of [1, 2, 3, 4, 5]) group.add(delivery(at));
    expect(groups).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });
  expect(groups).toEqual([[1, 2], [3, 4], [5]]);
  expect(outcome).toEqual([undefined, undefined, undefined]);
});

test('a group that cannot be taken is told with its reason, and the next is taken', () => {
  const settled = vi.fn();
  let failing = true;
  const group = groupDeliveries({
    take: () => {
      if (failing) throw new Error('disk full');
    },
    settled,
  });
  group.add(delivery(1));
  group.flush();
  failing = false;
  group.add(delivery(2));
  group.flush();
  group.flush();
  expect(settled.mock.calls).toEqual([[new Error('disk full')], [undefined]]);
});
