import { decode } from 'cborg';
import { describe, expect, it } from 'vitest';
import type { Batch, Board } from '../../simulator/board.js';
import { birthOf, messagesOf, willOf } from '../../simulator/payload.js';
import { headerProbes, probe, probesIn } from '../../simulator/world/build.js';

const AT = Date.UTC(2026, 5, 3, 2);
const [temperature, conductivity, oxygen] = probesIn('L3', 0.2, ['temperature', 'conductivity', 'oxygen-saturation']);
if (temperature === undefined || conductivity === undefined || oxygen === undefined) throw new Error('three probes');

const board = (form: Board['form'], own: Partial<Board> = {}): Board => ({
  id: 'larval-2',
  circuit: 'c',
  periodS: 10,
  phaseS: 0,
  form,
  stamps: 'seconds',
  clockAheadMs: 0,
  holds: 10,
  probes: [temperature, conductivity, oxygen],
  ...own,
});

const round = (takenMs: number, stampMs: number | undefined = takenMs): Batch => ({
  takenMs,
  stampMs,
  samples: [
    { probe: temperature, value: 23.41 },
    { probe: conductivity, value: 49.02 },
    { probe: oxygen, value: 98.7 },
  ],
});

const only = (one: Board, batches: readonly Batch[]): string | Uint8Array => {
  const messages = messagesOf(one, batches, AT);
  expect(messages).toHaveLength(1);
  return messages[0]?.payload ?? '';
};

describe('what a simulated board sends', () => {
  it('bare numbers, one to a topic of tank and quantity', () => {
    expect(messagesOf(board('bare'), [round(AT)], AT).map(({ topic, payload }) => [topic, payload])).toEqual([
      ['tanks/L3/temperature', '23.41'],
      ['tanks/L3/conductivity', '49.02'],
      ['tanks/L3/oxygen-saturation', '98.7'],
    ]);
  });

  it('a flat object with its time in seconds or in milliseconds', () => {
    expect(JSON.parse(String(only(board('object'), [round(AT)])))).toEqual({
      ts: AT / 1000,
      L3_temperature: 23.41,
      L3_conductivity: 49.02,
      'L3_oxygen-saturation': 98.7,
    });
    const inMs = JSON.parse(String(only(board('object', { stamps: 'milliseconds' }), [round(AT + 250)])));
    expect(inMs.ts).toBe(AT + 250);
  });

  // RFC 8428 sections 4.1, 4.2, 4.3 and 12.1: base name and base time in the first record, units Cel, S/m and "/" (a ratio).
  it('a SenML pack whose first record carries base name and base time, in registered units', () => {
    expect(JSON.parse(String(only(board('senml-json'), [round(AT)])))).toEqual([
      { bn: 'larval-2/', bt: AT / 1000, n: 'L3/temperature', u: 'Cel', v: 23.41 },
      { n: 'L3/conductivity', u: 'S/m', v: 4.902 },
      { n: 'L3/oxygen-saturation', u: '/', v: 0.987 },
    ]);
  });

  // RFC 8798 registers kg/m3; practical salinity has no registered unit, and a contact is a boolean (RFC 8428 4.2).
  it('oxygen as kg/m3, flow as m3/s, salinity without a unit, contacts as true and false', () => {
    const [level, flow, contact] = [
      ...headerProbes('larval', ['level', 'flow']),
      probe({ kind: 'air-main', id: 'air-b' }, 'contact', 0),
    ];
    const [salinity, oxygenMgL] = probesIn('S1', 0.2, ['salinity', 'oxygen-mg-l']);
    const values = [31.42, 7.13, 1.198, 21.6, 0];
    const samples = [salinity, oxygenMgL, level, flow, contact].flatMap((one, i) =>
      one === undefined ? [] : [{ probe: one, value: values[i] ?? 0 }],
    );
    const pack = JSON.parse(
      String(only(board('senml-json', { stamps: 'none' }), [{ takenMs: AT, stampMs: undefined, samples }])),
    );
    expect(pack).toEqual([
      { bn: 'larval-2/', n: 'S1/salinity', v: 31.42 },
      { n: 'S1/oxygen-mg-l', u: 'kg/m3', v: 0.00713 },
      { n: 'larval-header/level', u: 'm', v: 1.198 },
      { n: 'larval-header/flow', u: 'm3/s', v: expect.closeTo(21.6 / 60_000, 12) },
      { n: 'air-b/contact', vb: false },
    ]);
  });

  // RFC 8428 section 6, table 4: bn -2, bt -3, n 0, u 1, v 2. Design: told from JSON by a first byte of 0x80 to 0x9f.
  it('the same pack as CBOR with the integer labels, in an array of definite length', () => {
    const bytes = only(board('senml-cbor'), [round(AT)]);
    if (typeof bytes === 'string') throw new Error('bytes');
    expect(bytes[0]).toBe(0x83);
    const pack: Map<number, unknown>[] = decode(bytes, { useMaps: true });
    expect(pack.map((record) => Object.fromEntries(record))).toEqual([
      { '-2': 'larval-2/', '-3': AT / 1000, '0': 'L3/temperature', '1': 'Cel', '2': 23.41 },
      { '0': 'L3/conductivity', '1': 'S/m', '2': 4.902 },
      { '0': 'L3/oxygen-saturation', '1': '/', '2': 0.987 },
    ]);
  });

  // RFC 8428 section 4.5.3: times below 2^28 count from now, negative ones lie in the past.
  it('a backlog as one pack with negative times, from the base time or, without a clock, from now', () => {
    const stamped = JSON.parse(String(only(board('senml-json'), [round(AT - 20_000), round(AT)])));
    expect(stamped.map(({ t }: { t?: number }) => t)).toEqual([-20, -20, -20, undefined, undefined, undefined]);
    const batches = [AT - 25_000, AT].map((takenMs) => ({ ...round(takenMs), stampMs: undefined }));
    const blind = JSON.parse(String(only(board('senml-json', { stamps: 'none' }), batches)));
    expect(blind[0]).not.toHaveProperty('bt');
    expect(blind.map(({ t }: { t?: number }) => t)).toEqual([-25, -25, -25, undefined, undefined, undefined]);
  });

  it('its readings with QoS 1 and never retained, its status retained', () => {
    for (const form of ['bare', 'object', 'senml-json', 'senml-cbor'] as const) {
      for (const { qos, retain, kind } of messagesOf(board(form), [round(AT)], AT)) {
        expect({ qos, retain, kind }).toEqual({ qos: 1, retain: false, kind: 'reading' });
      }
    }
    expect(birthOf(board('bare'))).toMatchObject({ topic: 'boards/larval-2/status', payload: 'online', retain: true });
    expect(willOf(board('bare'))).toMatchObject({ topic: 'boards/larval-2/status', payload: 'offline', retain: true });
  });

  it('a long backlog in several packs, none above three hundred records and none lost', () => {
    const batches = Array.from({ length: 250 }, (_, i) => round(AT - (249 - i) * 10_000));
    const messages = messagesOf(board('senml-json'), batches, AT);
    const counts = messages.map(({ payload }) => JSON.parse(String(payload)).length);
    expect(counts).toEqual([300, 300, 150]);
  });

  it('nothing at all when every probe is silent', () => {
    expect(messagesOf(board('senml-json'), [{ takenMs: AT, stampMs: AT, samples: [] }], AT)).toEqual([]);
  });
});
