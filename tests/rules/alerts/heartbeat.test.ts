import { describe, expect, test } from 'vitest';
import {
  lossOf,
  makeHeartbeat,
  parseHeartbeat,
  type Watched,
  withBeat,
  withBroker,
} from '../../../rules/alerts/heartbeat.js';

const beats = (seconds: number, watched: Watched = { sinceMs: 0 }): Watched => {
  let now = watched;
  for (let at = 0; at <= seconds; at += 10)
    now = withBeat(now, { state: 'online', counter: at / 10 + 1, evaluatedMs: at * 1000 }, false, at * 1000);
  return now;
};

describe('the second Nightwater', () => {
  test('says nothing while the first beats and judges', () => {
    expect(lossOf(beats(100), 110_000)).toBeUndefined();
  });

  test('misses a first that fell silent, after a minute', () => {
    expect(lossOf(beats(100), 159_000)).toBeUndefined();
    expect(lossOf(beats(100), 160_000)).toEqual({ loss: 'no-heartbeat', sinceMs: 100_000 });
  });

  test('gives a restart half a minute after the last will, then believes it', () => {
    const said = withBeat(beats(100), { state: 'offline' }, false, 105_000);
    expect(lossOf(said, 120_000)).toBeUndefined();
    expect(lossOf(said, 135_000)).toEqual({ loss: 'said-offline', sinceMs: 105_000 });
    expect(lossOf(withBeat(said, { state: 'online', counter: 1 }, false, 121_000), 136_000)).toBeUndefined();
  });

  test('is not soothed by what the broker kept from before', () => {
    const kept = withBeat({ sinceMs: 0 }, { state: 'online', counter: 77, evaluatedMs: 1 }, true, 1_000);
    expect(lossOf(kept, 60_000)?.loss).toBe('no-heartbeat');
  });

  test('notices a first that beats but judges nothing', () => {
    let hung = beats(10);
    for (let at = 20; at <= 200; at += 10)
      hung = withBeat(hung, { state: 'online', counter: at, evaluatedMs: 10_000 }, false, at * 1000);
    expect(lossOf(hung, 200_000)).toEqual({ loss: 'judges-nothing', sinceMs: 10_000 });
  });

  test('says that the broker is lost after half a minute', () => {
    const down = withBroker(beats(100), 'down', 101_000);
    expect(lossOf(down, 131_000)?.loss).toBe('broker-lost');
    expect(lossOf(withBroker(down, 'up', 110_000), 131_000)).toBeUndefined();
  });

  test('reads what the first writes, and nothing else', () => {
    const beat = { state: 'online', atMs: 5, counter: 2, evaluatedMs: 4 } as const;
    expect(parseHeartbeat(makeHeartbeat(beat))).toEqual(beat);
    expect(parseHeartbeat('23.4')).toBeUndefined();
    expect(parseHeartbeat('{"state":"online","counter":"x"}')).toBeUndefined();
  });
});
