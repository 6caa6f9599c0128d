import { describe, expect, it } from 'vitest';
import { stripsOf } from '../../dashboard/state/strip.js';
import { alarm, channel, picture, tank } from '../support/sample-picture.js';

const line = (id: string, order: number) => tank(id, { kind: 'line', order });

describe('strips of the room', () => {
  it('puts each tank in its line, in the order people gave, whatever its state', () => {
    const room = picture({
      places: [
        tank('b2', { lineId: 'north', order: 1 }),
        tank('b1', { lineId: 'north', order: 0 }),
        line('seed', 1),
        line('north', 0),
        tank('s1', { lineId: 'seed' }),
      ],
      channels: [channel('b2', { state: 'outside-limit' }), channel('b1'), channel('s1')],
    });
    const strips = stripsOf(room);
    expect(strips.map(({ id }) => id)).toEqual(['north', 'seed']);
    expect(strips[0]?.cells.map(({ place }) => place.id)).toEqual(['b1', 'b2']);
  });

  it('loses no tank: one without a line, or with a line that is gone, stands in a strip of its own', () => {
    const strips = stripsOf(picture({ places: [tank('q1'), tank('q2', { lineId: 'gone' })], channels: [] }));
    expect(strips.flatMap(({ cells }) => cells.map(({ place }) => place.id))).toEqual(['q1', 'q2']);
  });

  it('shows intake and air that have probes, and leaves out places that have none', () => {
    const room = picture({
      places: [tank('intake', { kind: 'intake' }), tank('hall', { kind: 'room' })],
      channels: [channel('intake', { quantity: 'salinity' })],
    });
    expect(stripsOf(room).flatMap(({ cells }) => cells.map(({ place }) => place.id))).toEqual(['intake']);
  });

  it('draws percent of saturation where oxygen is measured in both', () => {
    const room = picture({
      places: [tank('b1')],
      channels: [channel('b1', { quantity: 'oxygen-mg-l' }), channel('b1', { quantity: 'oxygen-saturation' })],
    });
    expect(stripsOf(room)[0]?.columns).toEqual(['oxygen-saturation']);
  });

  it('draws the worst of several probes of one quantity', () => {
    const room = picture({
      places: [tank('b1')],
      channels: [
        channel('b1', { id: 'b1.temperature.top', position: 'top' }),
        channel('b1', { id: 'b1.temperature.bottom', position: 'bottom', state: 'outside-target' }),
      ],
    });
    expect(stripsOf(room)[0]?.cells[0]?.channels[0]?.position).toBe('bottom');
  });

  it.each([
    ['well', channel('l2'), false],
    ['outside its target', channel('l2', { state: 'outside-target' }), true],
    ['silent, though nobody is woken for it', channel('l2', { state: 'silent', notWatched: 'silent' }), true],
    ['muted and away from its target', channel('l2', { state: 'outside-target', notWatched: 'muted' }), false],
  ])('a tank that is %s asks to be looked at or not', (_, one, wanted) => {
    expect(stripsOf(picture({ places: [tank('l2')], channels: [one] }))[0]?.cells[0]?.wanted).toBe(wanted);
  });

  it('asks for a look at a tank with an open alarm on a channel that is in target again', () => {
    const room = picture({
      places: [tank('l2')],
      channels: [channel('l2')],
      alarms: [alarm('a', { state: 'rtn-unack' })],
    });
    expect(stripsOf(room)[0]?.cells[0]?.wanted).toBe(true);
  });
});
