import { expect, test } from 'vitest';
import { makeMalformedMessage } from '../../../gateway/intake/malformed-message.js';
import { malformed } from '../../../rules/wire/malformed.js';

const delivery = {
  topic: 'boards/shed-4/water',
  payload: Buffer.alloc(5000, 'x'),
  qos: 1,
  retained: false,
  redelivered: false,
  arrivalMs: 1_700_000_000_000,
} as const;

test('a message that cannot be read is kept with its reason and its first 200 bytes', () => {
  expect(makeMalformedMessage(delivery, malformed('not-a-number', { text: 'x' }))).toEqual({
    atMs: 1_700_000_000_000,
    topic: 'boards/shed-4/water',
    board: 'shed-4',
    code: 'not-a-number',
    parameters: { text: 'x' },
    payload: Buffer.alloc(200, 'x'),
    bytes: 5000,
  });
});

test('it is counted for the board that sent it, not for the one that the topic names', () => {
  const sent = { ...delivery, board: 'shed-3' };
  expect(makeMalformedMessage(sent, malformed('topic-not-own')).board).toBe('shed-3');
});

test('without either it is nobody’s', () => {
  expect(makeMalformedMessage({ ...delivery, topic: 'tanks/a/ph' }, malformed('not-utf8'))).not.toHaveProperty('board');
});
