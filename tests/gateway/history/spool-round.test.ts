import { expect, test } from 'vitest';
import type { Sent } from '../../../gateway/history/send.js';
import { keepSending, type Pace } from '../../../gateway/history/spool-round.js';

const PACE: Pace = { atMost: 1, limitMs: 1, restMs: 7, firstWaitMs: 1_000, longestWaitMs: 60_000 };
const BATCH = { readings: [], settles: { upTo: 1 } };
const BUSY = { kind: 'later', trouble: { code: 'busy', detail: '' } } as const;

/** The pauses that it makes over these answers, by a chance that always falls the same. */
const pausesOver = async (answers: readonly Sent[], chance: number): Promise<readonly number[]> => {
  const [left, pauses] = [[...answers], [] as number[]];
  await keepSending({
    pace: PACE,
    next: () => (left.length === 0 ? undefined : BATCH),
    send: async () => left.shift() ?? { refused: [] },
    settle: async () => undefined,
    report: () => undefined,
    pause: async (ms) => {
      if (ms === PACE.restMs) throw new Error('done');
      pauses.push(ms);
    },
    random: () => chance,
  }).catch(() => undefined);
  return pauses;
};

test('it waits twice as long after each failure, up to a minute, never less than half of it, and begins anew after a success', async () => {
  const away = Array.from({ length: 9 }, () => ({ refused: [], later: BUSY }));
  const whole = [1_000, 2_000, 4_000, 8_000, 16_000, 32_000, 60_000, 60_000, 60_000];
  expect(await pausesOver(away, 1)).toEqual(whole);
  expect(await pausesOver(away, 0)).toEqual(whole.map((ms) => ms / 2));
  expect(await pausesOver([...away.slice(0, 2), { refused: [] }, ...away.slice(0, 1)], 1)).toEqual([
    1_000, 2_000, 1_000,
  ]);
});

test('it never comes back sooner than the database asks, and after an hour all the same', async () => {
  const asks = (waitMs: number) => [{ refused: [], later: { ...BUSY, waitMs } }];
  expect(await pausesOver(asks(30_000), 0)).toEqual([30_000]);
  expect(await pausesOver(asks(30_000), 1)).toEqual([30_500]);
  expect(await pausesOver(asks(86_400_000), 0)).toEqual([3_600_000]);
});
