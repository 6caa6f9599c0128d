import { expect, test } from 'vitest';
import { earlierStays, stageStays, stayAt } from '../../../rules/log/stage-stay.js';
import { begun, diary } from './diary.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const START = Date.UTC(2030, 4, 1);

/** Two batches of larvae, the second four days after the first; the first goes through two tanks and then sets. */
const twoBatches = () => {
  const { entries, write } = diary(START);
  write('brought-in', 'l1', begun('A', 1_000), { atMs: START });
  write('move', 'l1', { to: 'l2' }, { atMs: START + 2 * DAY });
  write('brought-in', 'l1', begun('B', 800), { atMs: START + 4 * DAY });
  write('stage', 'l2', { stage: 'setting' }, { atMs: START + 6 * DAY });
  return entries;
};

test('a stay ends where the animals leave the tank or the stage, and keeps since when they are in the stage', () => {
  expect(stageStays(twoBatches())).toMatchObject([
    { batchId: 'A', placeId: 'l1', stage: 'larva', stageSinceMs: START, fromMs: START, toMs: START + 2 * DAY },
    {
      batchId: 'A',
      placeId: 'l2',
      stage: 'larva',
      stageSinceMs: START,
      fromMs: START + 2 * DAY,
      toMs: START + 6 * DAY,
    },
    { batchId: 'B', placeId: 'l1', stage: 'larva', stageSinceMs: START + 4 * DAY, fromMs: START + 4 * DAY },
    { batchId: 'A', placeId: 'l2', stage: 'setting', stageSinceMs: START + 6 * DAY },
  ]);
});

test('the same stage of an earlier batch is found tank by tank, and never the batch itself or a later one', () => {
  const stays = stageStays(twoBatches());
  const now = stayAt(stays, 'l1', START + 5 * DAY);
  expect(now).toMatchObject({ batchId: 'B', stage: 'larva' });
  if (now === undefined) return;
  expect(earlierStays(stays, now).map(({ batchId, placeId }) => `${batchId} ${placeId}`)).toEqual(['A l2', 'A l1']);
  const first = stayAt(stays, 'l1', START + DAY);
  expect(first?.batchId).toBe('A');
  expect(first === undefined ? [] : earlierStays(stays, first)).toEqual([]);
});

test('a tank that never held a batch has no stay', () => {
  expect(stayAt(stageStays(twoBatches()), 's1', START + 9 * DAY)).toBeUndefined();
});
