import { expect, test } from 'vitest';
import { landingOf } from '../../gateway/landing-of.js';
import type { Score } from '../../rules/conditions/forecast.js';
import { forecastRecordWords } from '../../rules/words/forecast.js';
import { gatewayRoom } from '../support/gateway-room.js';
import { NOON_MS } from '../support/hatchery.js';

const MINUTE_MS = 60_000;

const scoreOf = (issuedMs: number, errorMin?: number): Score => ({
  forecast: {
    condition: 'heading-for-ceiling',
    subject: 'l2.temperature',
    channelId: 'l2.temperature',
    issuedMs,
    line: { kind: 'ceiling', side: 'high', value: 30 },
    harm: { atMs: issuedMs + 40 * MINUTE_MS, earliestMs: issuedMs + 30 * MINUTE_MS, basis: [] },
  },
  scoredMs: issuedMs + 60 * MINUTE_MS,
  ...(errorMin === undefined
    ? { outcome: 'not-reached' }
    : { outcome: 'hit', errorMin, reachedMs: issuedMs + (40 + errorMin) * MINUTE_MS }),
});

test('what came of a forecast is kept with the readings that told it, once, and said', async () => {
  const room = await gatewayRoom();
  const scores = [scoreOf(NOON_MS - 9e6, 4), scoreOf(NOON_MS - 8e6, -10), scoreOf(NOON_MS - 7e6)];
  const landing = landingOf(scores.map((score) => ({ do: 'score', ...score })));
  room.journal.land(landing);
  room.journal.land(landing);
  const answer = await room.ask('viewer', { url: '/api/v1/forecasts' });
  expect(answer.json().scores).toEqual(scores.toReversed());
  expect(answer.json().record).toEqual({ reached: 2, hits: 2, notReached: 1, medianErrorMin: 7 });
  const newest = await room.ask('viewer', { url: '/api/v1/forecasts?last=1' });
  expect(newest.json().scores).toEqual([scores[2]]);
  expect(forecastRecordWords(answer.json().record)).toBe(
    'The last 2 forecasts that came true were off by 7 min at the median. 2 came inside the times given. 1 more did not come: somebody acted, or the forecast was wrong.',
  );
});

test('before the first forecast has come to its time, that is said', () => {
  expect(forecastRecordWords({ reached: 0, hits: 0, notReached: 6 })).toBe(
    'What the last 6 forecasts told did not come: somebody acted, or they were wrong.',
  );
  expect(forecastRecordWords({ reached: 0, hits: 0, notReached: 0 })).toBe('No forecast has come to its time yet.');
});
