import { expect, test } from 'vitest';
import { cannotSayLines } from '../../../rules/words/review.js';

const reader = { language: 'en', temperatureUnit: 'C', zone: 'UTC', hours: 24, placeName: (id: string) => id } as const;

test('the same said of several channels is one line, another reason or length another', () => {
  const silent = { code: 'silent', reason: 'board-silent', hours: 0.7 } as const;
  const lines = cannotSayLines(
    [
      { ...silent, channelId: 'n1.temperature' },
      { code: 'limit-not-confirmed', channelId: 'n1.temperature' },
      { ...silent, channelId: 'n2.temperature' },
      { ...silent, channelId: 'n3.temperature', hours: 3 },
      { code: 'no-cause' },
    ],
    reader,
  );
  expect(lines).toHaveLength(4);
  expect(lines[0]).toContain('42 min of the 72 hours');
  expect(lines[0]).toContain('n1 temperature, n2 temperature');
  expect(lines[1]).toContain('n1 temperature');
  expect(lines[2]).toContain('3 h');
});
