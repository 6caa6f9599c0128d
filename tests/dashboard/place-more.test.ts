import { describe, expect, test } from 'vitest';
import { moreOf, withMore } from '../../dashboard/state/place-more.js';
import type { Place } from '../../rules/place.js';

const POINT = { decimalMark: 'point' } as const;

const TANK: Place = {
  id: 'b1',
  kind: 'tank',
  name: 'B1',
  order: 0,
  heaterW: 3000,
  aerated: true,
  bed: { kind: 'sand', depthM: 0.12, porosity: 0.4 },
  wants: { temperature: { limitHigh: 24 } },
};

describe('the further fields of a tank', () => {
  test('shown and kept unchanged are the same tank', () => {
    expect(withMore(TANK, moreOf(TANK, POINT), POINT)).toEqual({ ok: true, value: TANK });
  });

  test('change what was typed, take away what was emptied, and leave the rest', () => {
    const made = withMore(
      TANK,
      {
        ...moreOf(TANK, POINT),
        heaterW: '',
        flowLMin: '4,5',
        aerated: '',
        circuitId: 'mains',
        bedDepthM: '0.1',
      },
      POINT,
    );
    expect(made).toEqual({
      ok: true,
      value: {
        id: 'b1',
        kind: 'tank',
        name: 'B1',
        order: 0,
        flowLMin: 4.5,
        circuitId: 'mains',
        bed: { kind: 'sand', depthM: 0.1, porosity: 0.4 },
        wants: TANK.wants,
      },
    });
  });

  test('say every figure that is none, and where', () => {
    const made = withMore(TANK, { ...moreOf(TANK, POINT), heaterW: 'big', depthM: '-1', bedDepthM: '' }, POINT);
    expect(made.ok ? [] : made.fault.map(({ field }) => field)).toEqual(['depthM', 'heaterW', 'bedDepthM']);
  });

  test('of a bed: what it is judged by is typed here, and what was seen of its layer stays', () => {
    const looks = [{ atMs: 1, kind: 'core', seenMm: 7, estimatedLowMm: 1, estimatedHighMm: 20 }] as const;
    const seen: Place = { ...TANK, bed: { kind: 'sand', depthM: 0.12, looks } };
    const texts = { ...moreOf(seen, POINT), limitDepthMm: '4', throughFlowLM2H: '40' };
    const made = withMore(seen, texts, POINT);
    const bed = { kind: 'sand', depthM: 0.12, looks, limitDepthMm: 4, throughFlowLM2H: 40 };
    expect(made).toEqual({ ok: true, value: { ...TANK, bed } });
    const wrong = withMore(seen, { ...texts, porosity: '40', grainMm: 'fine' }, POINT);
    expect(wrong.ok ? [] : wrong.fault.map(({ field }) => field)).toEqual(['porosity', 'grainMm']);
  });
});
