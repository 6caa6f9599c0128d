import { describe, expect, it } from 'vitest';
import { calmWords } from '../../dashboard/parts/calm-words.js';
import { calmOf } from '../../dashboard/state/calm.js';
import { stripsOf } from '../../dashboard/state/strip.js';
import type { Picture } from '../../rules/wire/picture.js';
import { channel, MINUTE_MS, NOW_MS, picture, READER, tank } from '../support/sample-picture.js';

const said = (change: Partial<Picture>) => {
  const room = picture(change);
  return calmWords(calmOf(room, stripsOf(room)), READER);
};
const two = { places: [tank('l1'), tank('l2')] };

describe('a room without an alarm', () => {
  it('is called well only when every tank is watched, known and in target', () => {
    expect(said({ ...two, channels: [channel('l1'), channel('l2')] })).toEqual({
      headline: 'All is well',
      lines: ['Two tanks watched'],
    });
  });

  it.each([
    ['off its target', channel('l2', { state: 'outside-target' }), 'One tank off target'],
    ['beyond a limit before the alarm sounds', channel('l2', { state: 'outside-limit' }), 'One tank beyond a limit'],
    ['silent', channel('l2', { state: 'silent', notWatched: 'silent' }), 'One channel unknown'],
    ['without a limit', channel('l2', { notWatched: 'no-limit' }), '1 of 2 tanks watched'],
  ])('is not called well when a tank is %s', (_, one, line) => {
    const words = said({ ...two, channels: [channel('l1'), one] });
    expect(words.headline).toBe('No alarm');
    expect(words.lines).toContain(line);
  });

  it('says that nothing is watched, and what to do about it', () => {
    const words = said({ ...two, channels: [channel('l1', { notWatched: 'no-limit' })] });
    expect(words.headline).toBe('Nothing is watched');
    expect(said({}).headline).toBe('No tank is named yet');
  });

  it('says what is due next', () => {
    const work = {
      id: 'w',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: NOW_MS,
      untilMs: NOW_MS + 24 * MINUTE_MS,
    } as const;
    const words = said({ places: [tank('l1'), tank('l4', { work })], channels: [channel('l1'), channel('l4')] });
    expect(words.next).toBe('L4 drained until 02:45');
  });
});
