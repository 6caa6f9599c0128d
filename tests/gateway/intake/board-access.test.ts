import { describe, expect, test } from 'vitest';
import { isLoopback, publishRefusal } from '../../../gateway/intake/board-access.js';
import { filterCovers } from '../../../gateway/intake/topic-filter.js';
import { DEFAULT_FILTERS } from '../../../rules/wire/topic.js';

describe('only this machine itself is trusted without a password', () => {
  test.each(['127.0.0.1', '127.3.2.1', '::1', '::ffff:127.0.0.1'])('%s is this machine', (address) => {
    expect(isLoopback(address)).toBe(true);
  });

  test.each(['192.0.2.7', '::ffff:192.0.2.7', '2001:db8::1', '1127.0.0.1', '127.0.0.1.example', '', undefined])(
    '%s is not',
    (address) => {
      expect(isLoopback(address)).toBe(false);
    },
  );
});

describe('a board may publish', () => {
  const refusal = (topic: string, board?: string) => publishRefusal(topic, { board, filters: DEFAULT_FILTERS })?.code;

  test.each(['boards/shed-3/water', 'boards/shed-3/status', 'tanks/larva-1/temperature'])('to %s', (topic) => {
    expect(refusal(topic, 'shed-3')).toBeUndefined();
  });

  test.each(['boards/shed-4/water', 'boards/shed-4/status', 'boards/shed-33/water', 'boards/'])(
    'not to %s',
    (topic) => {
      expect(refusal(topic, 'shed-3')).toBe('topic-not-own');
    },
  );

  test.each(['nightwater/site/heartbeat', 'tanks/larva-1', 'larva-1/temperature', '$SYS/x'])(
    'not to %s, to which nobody listens',
    (topic) => {
      expect(refusal(topic, 'shed-3')).toBe('topic-not-watched');
      expect(refusal(topic)).toBe('topic-not-watched');
    },
  );

  test('below any name when it is on this machine and gave none', () => {
    expect(refusal('boards/shed-4/water')).toBeUndefined();
  });
});

describe('a filter covers topics as MQTT 5.0 section 4.7 says', () => {
  test.each([
    ['sport/tennis/player1/#', 'sport/tennis/player1', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/ranking', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/score/wimbledon', true],
    ['sport/#', 'sport', true],
    ['#', 'sport/tennis', true],
    ['sport/tennis/+', 'sport/tennis/player1', true],
    ['sport/tennis/+', 'sport/tennis/player1/ranking', false],
    ['sport/+', 'sport', false],
    ['sport/+', 'sport/', true],
    ['+/+', '/finance', true],
    ['/+', '/finance', true],
    ['+', '/finance', false],
    ['#', '$SYS/broker', false],
    ['+/monitor/Clients', '$SYS/monitor/Clients', false],
    ['$SYS/#', '$SYS/monitor/Clients', true],
  ])('%s and %s: %s', (filter, topic, covers) => {
    expect(filterCovers(filter, topic)).toBe(covers);
  });
});
