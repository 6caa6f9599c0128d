import { expect, test } from 'vitest';
import { drawnFirst, stripPoints } from '../../dashboard/state/strip-readings.js';
import { bucketMsFor } from '../../gateway/history/buckets.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';

const HOUR_MS = 3_600_000;
const spanOf = (hours: number) => ({ fromMs: 17 * 60_000, toMs: 17 * 60_000 + hours * HOUR_MS });

test('a fortnight is drawn of whole hours, shorter times of no more points than a screen can show', () => {
  expect(bucketMsFor(spanOf(14 * 24), stripPoints(spanOf(14 * 24)))).toBe(HOUR_MS);
  expect(bucketMsFor(spanOf(72), stripPoints(spanOf(72)))).toBe(10 * 60_000);
  expect(bucketMsFor(spanOf(24), stripPoints(spanOf(24)))).toBe(5 * 60_000);
  expect(bucketMsFor(spanOf(1), stripPoints(spanOf(1)))).toBe(10_000);
});

test('tanks with deaths and what supplies them are drawn before the others; a channel that was never read is not asked for', () => {
  const channel = (channelId: string, part: ReviewedChannel['part'], readings = 9): ReviewedChannel => ({
    ...{ channelId, part, readings, placeId: 'n1', quantity: 'temperature' },
    ...{ wants: [], fingerprint: '', exposures: {}, gaps: [] },
  });
  const channels = [
    channel('warm.temperature', 'supply'),
    channel('n9.temperature', 'unaffected'),
    channel('n1.temperature', 'affected'),
    channel('n1.ph', 'affected', 0),
  ];
  expect(drawnFirst(channels)).toEqual({ own: ['warm.temperature', 'n1.temperature'], beside: ['n9.temperature'] });
});
