import { describe, expect, it } from 'vitest';
import { rangeOf, shifted, underSpan } from '../../dashboard/state/history-range.js';

const HOUR = 3_600_000;

describe('the range of the history page', () => {
  it('reads the fields by the clock of the site, on the night when the clock is changed too', () => {
    // Lisbon, 25 October 2026: 02:00 summer time becomes 01:00; the day has 25 hours. [IANA tz, Europe/Lisbon]
    expect(rangeOf('2026-10-25T00:00', '2026-10-26T00:00', 'Europe/Lisbon')).toEqual({
      span: { fromMs: Date.UTC(2026, 9, 24, 23), toMs: Date.UTC(2026, 9, 26) },
    });
  });

  it('says which field is wrong', () => {
    expect(rangeOf('', '2026-10-26T00:00', 'UTC')).toMatchObject({ field: 'from' });
    expect(rangeOf('2026-10-26T00:00', '2026-02-31T00:00', 'UTC')).toMatchObject({ field: 'to' });
    expect(rangeOf('2026-10-26T00:00', '2026-10-26T00:00', 'UTC')).toMatchObject({ field: 'to' });
    expect(rangeOf('0001-01-01T00:00', '2026-10-26T00:00', 'UTC')).toMatchObject({ field: 'from' });
  });
});

describe('an earlier batch beside this one', () => {
  it('is asked for by its own clock, and only while it was in that tank', () => {
    const span = { fromMs: 100 * HOUR, toMs: 124 * HOUR };
    expect(underSpan(span, { fromMs: 10 * HOUR, toMs: 20 * HOUR }, 96 * HOUR)).toEqual({
      fromMs: 10 * HOUR,
      toMs: 20 * HOUR,
    });
    expect(underSpan(span, { fromMs: 0 }, 96 * HOUR)).toEqual({ fromMs: 4 * HOUR, toMs: 28 * HOUR });
    expect(underSpan(span, { fromMs: 0, toMs: HOUR }, 96 * HOUR)).toBeUndefined();
  });

  it('lies under the clock of this one with its gaps', () => {
    const readings = {
      ...({ channelId: 'l2.temperature', quantity: 'temperature', unit: 'degC', bucketMs: 0 } as const),
      ...{ fromMs: 0, toMs: HOUR, atMs: [0, HOUR / 2], min: [23, 24], mean: [23, 24], max: [23, 24], usable: [1, 1] },
      gaps: [{ fromMs: 1, toMs: 2, reason: 'board-silent' as const }],
    };
    expect(shifted(readings, HOUR)).toMatchObject({
      fromMs: HOUR,
      toMs: 2 * HOUR,
      atMs: [HOUR, 1.5 * HOUR],
      gaps: [{ fromMs: HOUR + 1, toMs: HOUR + 2 }],
    });
  });
});
