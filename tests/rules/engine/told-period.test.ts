import { expect, test } from 'vitest';
import { hatchery, mappingsOf, tank } from '../../support/hatchery.js';
import { MINUTE, night } from '../../support/night.js';

const L2 = tank('l2');
const L2_TEMPERATURE = 11;

test('a reading that is 25 minutes old is fresh from a board that was said to speak every ten', () => {
  const slow = night(hatchery([L2], { mappings: mappingsOf([L2], 10 * MINUTE) }));
  const deviceMs = slow.now() - 25 * MINUTE;
  for (const minutes of [0, 2, 4]) {
    slow.tell({
      kind: 'reading',
      atMs: slow.now(),
      sourceId: L2_TEMPERATURE,
      raw: 40,
      deviceMs: deviceMs + minutes * MINUTE,
    });
  }
  expect(slow.story()).toEqual(['cond-on above-limit l2.temperature']);
});
