import { describe, expect, it } from 'vitest';
import { saidOf } from '../../dashboard/state/said.js';
import { beneath, beside } from '../../dashboard/state/said-layout.js';
import { stripsOf } from '../../dashboard/state/strip.js';
import type { ChannelPicture, PlacePicture } from '../../rules/wire/picture.js';
import { alarm, channel, MINUTE_MS, NOW_MS, picture, READER, tank } from '../support/sample-picture.js';

const told = (
  places: readonly PlacePicture[],
  channels: readonly ChannelPicture[],
  alarms = [] as ReturnType<typeof alarm>[],
) => {
  const [strip] = stripsOf(picture({ places, channels, alarms }));
  return strip === undefined ? [] : saidOf(strip, NOW_MS, READER);
};
const fresh = (id: string) =>
  channel(id, {
    quantity: 'salinity',
    value: 24,
    state: 'outside-target',
    wants: { targetLow: 26, targetHigh: 30, confirmed: true },
  });
const tanks = (...ids: readonly string[]) => ids.map((id, order) => tank(id, { order }));

describe('what is said of a strip', () => {
  it('says nothing of tanks that are well', () => {
    expect(told(tanks('l1', 'l2'), [channel('l1'), channel('l2')])).toEqual([]);
  });

  it('names a silent probe with how long it has been silent', () => {
    const silent = channel('b5', { quantity: 'oxygen-saturation', state: 'silent', atMs: NOW_MS - 12 * MINUTE_MS });
    const [said] = told(tanks('b5'), [silent]);
    expect(said?.phrase).toEqual({ long: 'oxygen silent 12 min', short: 'O2 silent' });
    expect(said?.mark).toBe('silent');
  });

  it('says one sentence for four tanks with one fault, not four', () => {
    const ids = ['s1', 's2', 's3', 's4'] as const;
    const said = told(tanks(...ids), ids.map(fresh));
    expect(said.map(({ phrase }) => phrase.long)).toEqual(['all four fresher than target']);
    expect(said[0]?.count).toBe(4);
  });

  it('counts them where the others are well', () => {
    const said = told(tanks('s1', 's2', 's3', 's4'), [
      ...['s1', 's2', 's3'].map(fresh),
      channel('s4', { quantity: 'salinity', value: 28 }),
    ]);
    expect(said[0]?.phrase.long).toBe('three of four fresher than target');
  });

  it('says when the ceiling comes where a forecast stands', () => {
    const line = { kind: 'ceiling', side: 'high', value: 32 } as const;
    const finding = {
      condition: 'heater-stuck-on' as const,
      placeId: 'l2',
      channelId: 'l2.temperature',
      priority: 'high' as const,
      sinceMs: NOW_MS,
      line,
      harm: { atMs: NOW_MS + 44 * MINUTE_MS, earliestMs: NOW_MS + 34 * MINUTE_MS, basis: [] },
    };
    const [said] = told(
      tanks('l2'),
      [channel('l2', { value: 29.9, state: 'outside-target' })],
      [alarm('a', { finding })],
    );
    expect(said?.phrase.long).toBe('ceiling about 03:05');
    expect(said?.tone).toBe('alarm');
  });

  it('says the work and its time, not the probes that hang in the air', () => {
    const work = {
      id: 'w',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: NOW_MS,
      untilMs: NOW_MS + 24 * MINUTE_MS,
    } as const;
    const said = told([tank('l4', { work })], [channel('l4', { state: 'out-of-water' }), fresh('l4')]);
    expect(said.map(({ phrase }) => phrase.long)).toEqual(['drained, 24 min left']);
  });
});

describe('words under the tanks', () => {
  const widthOf = (text: string): number => text.length * 10;
  const said = told(tanks('b1', 'b2', 'b3'), [
    channel('b1', { quantity: 'oxygen-saturation', state: 'silent', atMs: NOW_MS - 12 * MINUTE_MS }),
    channel('b2', { quantity: 'oxygen-saturation', state: 'silent', atMs: NOW_MS - 12 * MINUTE_MS }),
  ]);

  it('take the longer form where there is room, the shorter where the next tank has words too', () => {
    const { shown, more } = beneath(said, [0, 150, 300], { width: 450, gap: 10, widthOf });
    expect(shown.map(({ text, x }) => [text, x])).toEqual([
      ['O2 silent', 0],
      ['oxygen silent 12 min', 150],
    ]);
    expect(more).toBe(0);
  });

  it('move left at the right edge rather than being cut', () => {
    const { shown } = beneath(said.slice(1), [0, 150, 300], { width: 200, gap: 10, widthOf });
    expect(shown.map(({ text, x }) => [text, x])).toEqual([['O2 silent', 110]]);
  });

  it('are counted where they find no room', () => {
    const { shown, more } = beneath(said, [0, 50, 100], { width: 100, gap: 10, widthOf });
    expect(shown.length + more).toBe(2);
    expect(more).toBe(1);
  });

  it('stand worst first beside a folded line, and count the rest', () => {
    const row = beside(said, { width: 260, gap: 10, lead: 20, rest: 30, widthOf });
    expect(row.shown.map(({ text }) => text)).toEqual(['B1 O2 silent']);
    expect(row.more).toBe(1);
  });
});
