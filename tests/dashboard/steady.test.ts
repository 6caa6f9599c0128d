import { effect, signal } from '@preact/signals';
import { describe, expect, it } from 'vitest';
import { saysTheSame, steady } from '../../dashboard/state/steady.js';

describe('what is drawn again', () => {
  it.each([
    [0, -0, false],
    [Number.NaN, Number.NaN, true],
    [{ a: 1, b: [1, 2] }, { b: [1, 2], a: 1 }, true],
    [{ a: 1 }, { a: 1, b: undefined }, false],
    [[], {}, false],
    [[1, 2], [2, 1], false],
    [null, undefined, false],
  ])('%o and %o say the same: %s', (a, b, same) => {
    expect(saysTheSame(a, b)).toBe(same);
  });

  it('is not drawn again while its words stay the same', () => {
    const value = signal(21.21);
    const words = steady(() => ({ text: value.value.toFixed(1) }));
    const drawn: string[] = [];
    const stop = effect(() => {
      drawn.push(words.value.text);
    });
    value.value = 21.22;
    value.value = 21.24;
    value.value = 21.31;
    stop();
    expect(drawn).toEqual(['21.2', '21.3']);
  });
});
