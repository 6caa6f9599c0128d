import { expect, test } from 'vitest';
import { type ChannelNight, morningRows } from '../../../rules/alerts/morning.js';
import { MINUTE, NIGHT_MS } from '../../support/ladder-night.js';

const FIVE = 5 * MINUTE;
const buckets = Array.from({ length: 12 }, (_, n) => NIGHT_MS + n * FIVE);

/** An hour at 29 °C, in buckets of five minutes. */
const channel = (wants: ChannelNight['wants']): ChannelNight => ({
  placeId: 'l2',
  quantity: 'temperature',
  computed: false,
  readings: {
    atMs: buckets,
    min: buckets.map(() => 28.9),
    mean: buckets.map(() => 29),
    max: buckets.map(() => 29.1),
    bucketMs: FIVE,
    gaps: [],
  },
  wants,
});

test('the morning judges each minute by the limits that ruled then, not by those of today', () => {
  const halfHourMs = NIGHT_MS + 6 * FIVE;
  const [row] = morningRows([
    channel([
      { fromMs: NIGHT_MS, wants: { limitHigh: 28, targetHigh: 27, confirmed: true } },
      { fromMs: halfHourMs, wants: { limitHigh: 31, targetHigh: 28, confirmed: true } },
    ]),
  ]);
  expect(row).toMatchObject({ outsideLimitMs: 30 * MINUTE, outsideTargetMs: 60 * MINUTE });
});

test('before any limit ruled nothing lay outside one', () => {
  const [row] = morningRows([channel([{ fromMs: NIGHT_MS, wants: undefined }])]);
  expect(row).toMatchObject({ outsideLimitMs: 0, outsideTargetMs: 0 });
});
