import { expect, test } from 'vitest';
import { type ChannelNight, morningRows } from '../../../rules/alerts/morning.js';
import { morningMilderLine } from '../../../rules/words/morning.js';
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
  work: [],
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

test('a drain-down that was declared is no time outside a limit, nor is the water that settles after it', () => {
  const hot = channel([{ fromMs: NIGHT_MS, wants: { limitHigh: 28, confirmed: true } }]);
  const drained = { fromMs: NIGHT_MS + 2 * FIVE, toMs: NIGHT_MS + 6 * FIVE };
  const [row] = morningRows([{ ...hot, work: [drained] }]);
  // Twelve buckets of five minutes, without four of work and one of settling.
  expect(row).toMatchObject({ outsideLimitMs: 7 * FIVE });
  const [all] = morningRows([{ ...hot, work: [{ fromMs: NIGHT_MS, toMs: NIGHT_MS + 12 * FIVE }] }]);
  expect(all).toMatchObject({ outsideLimitMs: 0 });
  expect(all?.highestC).toBeUndefined();
});

test('before any limit ruled nothing lay outside one', () => {
  const [row] = morningRows([channel([{ fromMs: NIGHT_MS, wants: undefined }])]);
  expect(row).toMatchObject({ outsideLimitMs: 0, outsideTargetMs: 0 });
});

test('what does not fit on the first screen is named, and says when a limit was passed there too', () => {
  const night = { outsideTargetMs: 12 * MINUTE, silentMs: 0 };
  const rows = [
    { placeId: 'b2', outsideLimitMs: 5 * MINUTE, ...night },
    { placeId: 'b3', outsideLimitMs: 0, ...night },
  ];
  const reader = { zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 } as const;
  const said = (shown: typeof rows) => morningMilderLine(shown, (id) => id.toUpperCase(), reader);
  expect(said(rows)).toBe('For less time outside: B2, B3; 1 of them outside a limit too');
  expect(said(rows.slice(1))).toBe('For less time outside: B3');
});
