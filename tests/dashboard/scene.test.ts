import { describe, expect, it } from 'vitest';
import { thinned } from '../../dashboard/chart/scene.js';

describe('the trail behind a float', () => {
  it('has no more points than its paper can show, each the mean of its neighbours', () => {
    expect(thinned([1, 3, 5, 7, 9, 11], 3)).toEqual([2, 6, 10]);
    expect(thinned([1, 3, 5, 7, 9], 2)).toEqual([2, 6, 9]);
  });

  it('is left as it is where there is room for all of it', () => {
    expect(thinned([1, null, 3], 3)).toEqual([1, null, 3]);
    expect(thinned([], 10)).toEqual([]);
  });

  it('keeps a gap that the eye can see, and does not make one of a missed reading', () => {
    expect(thinned([1, null, null, null, 5, 5], 2)).toEqual([null, 5]);
    expect(thinned([1, null, 3, 4, 5, 6], 2)).toEqual([2, 5]);
    expect(thinned([null, null, null, null], 2)).toEqual([null, null]);
  });
});
