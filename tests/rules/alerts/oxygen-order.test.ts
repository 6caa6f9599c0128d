import { describe, expect, test } from 'vitest';
import { oxygenOrder } from '../../../rules/alerts/oxygen-order.js';
import { exactly } from '../../../rules/statistics/interval.js';

const tank = (placeId: string, oxygen: number, more = {}) => ({
  placeId,
  oxygenMgL: exactly(oxygen),
  limitMgL: 4,
  solubilityMgL: 7,
  ...more,
});

describe('in a power cut', () => {
  test('the tank whose oxygen runs out first stands first', () => {
    const order = oxygenOrder([
      tank('calm', 7, { uptakeMgLPerH: exactly(0.1) }),
      tank('crowded', 7, { uptakeMgLPerH: exactly(3) }),
      tank('falling', 6, { slopeMgLPerH: exactly(-1) }),
    ]);
    // By hand: (7 − 4) / 3 = 1 h; (6 − 4) / 1 = 2 h; (7 − 4) / 0.1 = 30 h.
    expect(order.map(({ placeId, basis }) => `${placeId} ${basis}`)).toEqual([
      'crowded budget',
      'falling measured',
      'calm budget',
    ]);
  });

  test('a tank already below its limit stands before all', () => {
    expect(
      oxygenOrder([tank('b', 6, { slopeMgLPerH: exactly(-3) }), tank('a', 3, { slopeMgLPerH: exactly(-1) })])[0]
        ?.placeId,
    ).toBe('a');
  });

  test('what nobody knows is not taken for safe: it stands before tanks that never run out, the lowest first', () => {
    const order = oxygenOrder([
      { placeId: 'no-probe' },
      tank('still', 7, { uptakeMgLPerH: exactly(0) }),
      tank('low', 5),
      tank('crowded', 7, { uptakeMgLPerH: exactly(3) }),
    ]);
    expect(order.map(({ placeId }) => placeId)).toEqual(['crowded', 'low', 'no-probe', 'still']);
  });
});
