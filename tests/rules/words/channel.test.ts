import { describe, expect, it } from 'vitest';
import {
  channelPhrase,
  directionPhrase,
  togetherPhrase,
  wantsPhrase,
  workPhrase,
} from '../../../rules/words/channel.js';
import { channel, MINUTE_MS, NOW_MS, READER } from '../../support/sample-picture.js';

const oxygen = { targetLow: 80, targetHigh: 105, confirmed: true };

describe('a channel in words', () => {
  it('never stands as a bare number', () => {
    const low = channel('b3', { quantity: 'oxygen-saturation', value: 74, state: 'outside-target', wants: oxygen });
    expect(channelPhrase(low, NOW_MS, READER)).toEqual({ long: 'oxygen 74 %', short: 'O2 74 %' });
  });

  it('says how long a probe has been silent, from its last reading on', () => {
    const silent = channel('b5', {
      quantity: 'oxygen-saturation',
      state: 'silent',
      atMs: NOW_MS - 12 * MINUTE_MS,
      sinceMs: NOW_MS,
    });
    expect(channelPhrase(silent, NOW_MS, READER).long).toBe('oxygen silent 12 min');
  });

  it('asks of a value that cannot be water', () => {
    const odd = channel('l5', { quantity: 'salinity', state: 'not-plausible' });
    expect(channelPhrase(odd, NOW_MS, READER)).toEqual({
      long: 'salinity not plausible',
      short: 'salinity?',
      shortest: 'S?',
    });
  });

  it('says on which side a temperature lies', () => {
    expect(directionPhrase(channel('l2', { value: 29, state: 'outside-target' }), READER)?.long).toBe(
      'warmer than target',
    );
    expect(directionPhrase(channel('l2', { value: 31, state: 'outside-limit' }), READER)?.long).toBe('over its limit');
    expect(directionPhrase(channel('l2', { value: 0, state: 'outside-target' }), READER)?.long).toBe(
      'colder than target',
    );
    expect(directionPhrase(channel('l2'), READER)).toBeUndefined();
  });

  it('says work with the time it still has, and the time it is over', () => {
    const work = { id: 'w', kind: 'drain-down', by: 'Tomas', fromMs: 0, untilMs: NOW_MS + 24 * MINUTE_MS } as const;
    expect(workPhrase(work, NOW_MS, READER).long).toBe('drained, 24 min left');
    expect(workPhrase(work, NOW_MS + 30 * MINUTE_MS, READER).long).toBe('drained, 6 min over time');
  });

  it('counts tanks in words up to twelve', () => {
    expect(togetherPhrase('salinity', 'low', { count: 4, total: 4 }, READER).long).toBe('all four fresher than target');
    expect(togetherPhrase('temperature', 'high', { count: 13, total: 20 }, READER).long).toBe(
      '13 of 20 warmer than target',
    );
  });

  it('says what it wants, or that nobody is woken for it', () => {
    expect(wantsPhrase(channel('l2'), READER)).toBe('target 24 to 28 °C');
    expect(wantsPhrase({ quantity: 'oxygen-saturation', wants: { limitLow: 60, confirmed: false } }, READER)).toBe(
      'limit at least 60 %',
    );
    expect(wantsPhrase({ quantity: 'ph' }, READER)).toBe('not watched');
  });
});
