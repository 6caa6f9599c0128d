import { describe, expect, it } from 'vitest';
import { applied, openAlarms, worstFirst } from '../../dashboard/state/live.js';
import { alarm, channel, MINUTE_MS, NOW_MS, picture, tank } from '../support/sample-picture.js';

const finding = (priority: 'low' | 'medium' | 'high', harmInMin?: number) => ({
  condition: 'heading-for-ceiling' as const,
  placeId: 'l2',
  priority,
  sinceMs: NOW_MS,
  ...(harmInMin === undefined ? {} : { harm: { atMs: NOW_MS + harmInMin * MINUTE_MS, earliestMs: NOW_MS, basis: [] } }),
});

describe('the live picture', () => {
  it('shows nothing before the first picture', () => {
    expect(applied(undefined, { kind: 'life', body: { nowMs: NOW_MS, readingsPerSecond: 0 } })).toBeUndefined();
  });

  it('takes the place of the whole room when a picture comes', () => {
    const fresh = picture({ sequence: 20 });
    expect(applied(picture(), { kind: 'picture', body: fresh })).toBe(fresh);
  });

  it('moves only the channels that moved, and keeps their order', () => {
    const before = picture({ channels: [channel('l1'), channel('l2'), channel('l3')] });
    const after = applied(before, {
      kind: 'channels',
      body: { atMs: NOW_MS + 1000, readings: 1, channels: [channel('l2', { value: 27 })], alarms: [] },
    });
    expect(after?.channels.map(({ value }) => value)).toEqual([26, 27, 26]);
    expect(after?.channels[0]).toBe(before.channels[0]);
  });

  it('adds a channel that was not there', () => {
    const body = { atMs: NOW_MS, readings: 1, channels: [channel('l9')], alarms: [] };
    expect(applied(picture(), { kind: 'channels', body })?.channels).toHaveLength(1);
  });

  it('opens, changes and ends an alarm in the order of the journal', () => {
    const opened = applied(picture(), {
      kind: 'change',
      body: { sequence: 11, atMs: NOW_MS, kind: 'alarm', alarm: alarm('a') },
    });
    expect(opened?.alarms).toHaveLength(1);
    const body = { sequence: 12, atMs: NOW_MS, kind: 'alarm' as const, alarm: alarm('a', { state: 'ack' }) };
    const answered = applied(opened, { kind: 'change', body });
    expect(answered?.alarms.map(({ state }) => state)).toEqual(['ack']);
    const end = { sequence: 13, atMs: NOW_MS, kind: 'alarm' as const, alarm: alarm('a', { state: 'normal' }) };
    const ended = applied(answered, { kind: 'change', body: end });
    expect(ended?.alarms).toEqual([]);
    expect(ended?.sequence).toBe(13);
  });

  it('shows a finding that moved on its open alarm, and opens none by a beat', () => {
    const before = picture({ alarms: [alarm('a', { finding: finding('high', 50) })] });
    const moved = [alarm('a', { finding: finding('high', 44) }), alarm('b')];
    const after = applied(before, {
      kind: 'channels',
      body: { atMs: NOW_MS, readings: 1, channels: [], alarms: moved },
    });
    expect(after?.alarms.map(({ id, finding: now }) => [id, now.harm?.atMs])).toEqual([['a', NOW_MS + 44 * MINUTE_MS]]);
  });

  it('does not open again what the picture already holds as ended', () => {
    const late = { sequence: 9, atMs: NOW_MS, kind: 'alarm' as const, alarm: alarm('a') };
    expect(applied(picture({ sequence: 10 }), { kind: 'change', body: late })?.alarms).toEqual([]);
  });

  it('keeps the time of the last reading when a word of life brings none', () => {
    const before = picture({ lastReadingMs: NOW_MS - 5000 });
    const after = applied(before, { kind: 'life', body: { nowMs: NOW_MS + 1000, readingsPerSecond: 0 } });
    expect(after?.lastReadingMs).toBe(NOW_MS - 5000);
    expect(after?.atMs).toBe(NOW_MS + 1000);
  });

  it('replaces places, boards and the state of the broker', () => {
    const withTank = applied(picture(), { kind: 'places', body: [tank('l1')] });
    expect(withTank?.places.map(({ id }) => id)).toEqual(['l1']);
    expect(applied(withTank, { kind: 'link', body: { broker: 'down', sinceMs: 5 } })?.link.broker).toBe('down');
  });
});

describe('worst first', () => {
  it('puts priority before time, time before age, and no forecast last', () => {
    const all = [
      alarm('low', { finding: finding('low', 1) }),
      alarm('none-old', { finding: finding('high'), activatedMs: 1 }),
      alarm('none-new', { finding: finding('high'), activatedMs: 2 }),
      alarm('late', { finding: finding('high', 90) }),
      alarm('soon', { finding: finding('high', 10) }),
      alarm('medium', { finding: finding('medium', 5) }),
    ];
    expect(all.toSorted(worstFirst).map(({ id }) => id)).toEqual([
      'soon',
      'late',
      'none-old',
      'none-new',
      'medium',
      'low',
    ]);
  });

  it('never flickers between equals', () => {
    const [a, b] = [alarm('a'), alarm('b')];
    expect([b, a].toSorted(worstFirst).map(({ id }) => id)).toEqual(['a', 'b']);
  });

  it('leaves shelved alarms and ended ones out', () => {
    const open = openAlarms([alarm('a', { inhibit: 'shelved' }), alarm('b', { state: 'normal' }), alarm('c')]);
    expect(open.map(({ id }) => id)).toEqual(['c']);
  });
});
