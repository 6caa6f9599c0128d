import { describe, expect, it } from 'vitest';
import { aliveness, QUIET_MS, SILENCE_MS } from '../../dashboard/state/aliveness.js';

const NOW = 1_000_000_000;
const room = { link: { broker: 'up', sinceMs: 0 } as const, lastReadingMs: NOW - 1000 };

describe('whether the screen is alive', () => {
  it('is live with the age of the last reading', () => {
    expect(aliveness({ kind: 'live' }, NOW - 500, room, NOW)).toEqual({ kind: 'live', agoMs: 1000 });
  });

  it('is lost when the connection says live but no word has come for some seconds', () => {
    const heard = NOW - SILENCE_MS - 1;
    expect(aliveness({ kind: 'live' }, heard, room, NOW)).toEqual({ kind: 'lost', sinceMs: heard });
  });

  it('is lost since the last word, not since the connection noticed', () => {
    expect(aliveness({ kind: 'lost', sinceMs: NOW - 1000 }, NOW - 9000, room, NOW)).toEqual({
      kind: 'lost',
      sinceMs: NOW - 9000,
    });
  });

  it('says that the broker is down, though the gateway answers', () => {
    const down = { ...room, link: { broker: 'down', sinceMs: 7 } as const };
    expect(aliveness({ kind: 'live' }, NOW, down, NOW)).toEqual({ kind: 'broker-down', sinceMs: 7 });
  });

  it('is not calm when no reading has arrived for minutes', () => {
    const mute = { ...room, lastReadingMs: NOW - QUIET_MS - 1 };
    expect(aliveness({ kind: 'live' }, NOW, mute, NOW).kind).toBe('quiet');
  });

  it('waits, and does not cry, before the first word', () => {
    expect(aliveness({ kind: 'connecting', sinceMs: 5 }, undefined, undefined, NOW)).toEqual({
      kind: 'waiting',
      sinceMs: 5,
    });
    expect(aliveness({ kind: 'live' }, NOW, { link: { broker: 'up', sinceMs: 0 } }, NOW).kind).toBe('no-reading');
  });
});
