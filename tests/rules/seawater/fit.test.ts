import { describe, expect, it } from 'vitest';
import { beyondFit } from '../../../rules/seawater/fit.js';

describe('Beyond the measured range', () => {
  it('is nothing in ordinary water, ends of the range included', () => {
    expect(beyondFit('practical-salinity', { temperatureC: 35, salinity: 42 })).toEqual([]);
    expect(beyondFit('oxygen', { temperatureC: 0, salinity: 0, saturationPct: 150 })).toEqual([]);
    expect(beyondFit('ammonia', { temperatureC: 20, salinity: 33, ph: 8.1 })).toEqual([]);
  });

  it('names what lies beyond', () => {
    expect(beyondFit('practical-salinity', { temperatureC: 36, salinity: 45 })).toEqual(['temperatureC', 'salinity']);
    expect(beyondFit('oxygen', { temperatureC: 20, salinity: 33, saturationPct: 180 })).toEqual(['saturationPct']);
    expect(beyondFit('ammonia', { temperatureC: 3, salinity: 2, ph: 8.1 })).toEqual(['temperatureC', 'salinity']);
    expect(beyondFit('density', { temperatureC: 41, salinity: 33 })).toEqual(['temperatureC']);
  });

  it('leaves out what the equation does not use', () => {
    expect(beyondFit('density', { temperatureC: 20, salinity: 33, ph: 2 })).toEqual([]);
  });
});
