import { describe, expect, it } from 'vitest';
import { advance, type Run } from '../../simulator/advance.js';
import { type Event, scheduleOf } from '../../simulator/event.js';
import type { Hatchery } from '../../simulator/hatchery.js';
import { startHatchery } from '../../simulator/hatchery-step.js';
import type { Message } from '../../simulator/payload.js';
import { hasPlace } from '../../simulator/sense.js';
import { probesIn } from '../../simulator/world/build.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';

const START = Date.UTC(2026, 5, 3, 1);
const MINUTE_MS = 60_000;

const night = (hatchery: Hatchery, events: readonly Event[] = []): Run => ({
  hatchery,
  state: startHatchery(hatchery, START),
  schedule: scheduleOf(events),
});

const minutes = (run: Run, count: number, stepS = 5) => advance(run, run.state.atMs + count * MINUTE_MS, stepS);
const from = (messages: readonly Message[], topic: string): readonly number[] =>
  messages.filter((message) => message.topic === topic).map(({ payload }) => Number(payload));
const span = (fromMinute: number, toMinute: number) => ({
  fromMs: START + fromMinute * MINUTE_MS,
  toMs: START + toMinute * MINUTE_MS,
});

describe('a simulated hatchery', () => {
  it('lives the same night from the same seed, and another from another', () => {
    const messages = (seed: number) => minutes(night(saltmarshLane(seed)), 30).messages;
    expect(messages(7)).toEqual(messages(7));
    expect(from(messages(7), 'tanks/L2/temperature')).not.toEqual(from(messages(8), 'tanks/L2/temperature'));
  });

  it('lives the same night in its other tanks when a board is added', () => {
    const plain = saltmarshLane(7);
    const [first] = plain.boards;
    if (first === undefined) throw new Error('no boards');
    const extra = { ...first, id: 'extra', probes: probesIn('B1', 0.1, ['temperature']) };
    const more = minutes(night({ ...plain, boards: [extra, ...plain.boards] }), 20).messages;
    expect(more.filter(({ board }) => board !== 'extra')).toEqual(minutes(night(plain), 20).messages);
  });

  it('has at least twelve tanks on three lines, each with water probes, and no probe in a place it does not have', () => {
    const hatchery = saltmarshLane(7);
    expect(hatchery.tanks.length).toBeGreaterThanOrEqual(12);
    expect(new Set(hatchery.tanks.map(({ line }) => line))).toEqual(new Set(['north', 'larval', 'seed']));
    const probes = hatchery.boards.flatMap((board) => board.probes);
    expect(probes.filter(({ place }) => !hasPlace(hatchery, place))).toEqual([]);
    for (const { id } of hatchery.tanks) {
      const own = probes
        .filter(({ place }) => place.kind === 'tank' && place.id === id)
        .map(({ quantity }) => quantity);
      expect(own).toContain('temperature');
      expect(own.some((quantity) => quantity === 'conductivity' || quantity === 'salinity')).toBe(true);
      expect(own.some((quantity) => quantity === 'oxygen-mg-l' || quantity === 'oxygen-saturation')).toBe(true);
    }
    expect(new Set(hatchery.boards.map(({ form }) => form)).size).toBe(4);
  });

  // practice: S drops toward 0 as the cell meets air, O goes to about 100 % of air, T walks to room temperature.
  it('shows a drained tank as a probe in air: no salt, oxygen as in air, temperature walking to the room', () => {
    const drained: Event = { kind: 'drain-down', tank: 'L1', declared: false, ...span(5, 60) };
    const { run, messages } = minutes(night(saltmarshLane(7), [drained]), 60);
    const last = (topic: string): number => from(messages, topic).at(-1) ?? Number.NaN;
    expect(from(messages, 'tanks/L1/conductivity')[20]).toBeGreaterThan(40);
    expect(last('tanks/L1/conductivity')).toBeLessThan(0.2);
    expect(Math.abs(last('tanks/L1/oxygen-saturation') - 100)).toBeLessThan(3);
    expect(Math.abs(last('tanks/L1/temperature') - (run.state.roomC['larval-room'] ?? Number.NaN))).toBeLessThan(0.3);
  });

  it('shows a probe on the bench the same way while its tank is full', () => {
    const lifted: Event = {
      kind: 'probe-lifted',
      place: 'L1',
      quantity: 'conductivity',
      declared: false,
      ...span(5, 60),
    };
    const { run, messages } = minutes(night(saltmarshLane(7), [lifted]), 30);
    expect(from(messages, 'tanks/L1/conductivity').at(-1)).toBeLessThan(0.2);
    expect(from(messages, 'tanks/L1/temperature').at(-1)).toBeGreaterThan(21.5);
    expect(run.state.water.L1?.volumeL).toBeGreaterThan(119);
  });

  it('loses air in every tank of a main at once, and the pressure switch says so', () => {
    const off: Event = { kind: 'air-off', main: 'air-b', ...span(5, 60) };
    const { run, messages } = minutes(night(saltmarshLane(7), [off]), 60);
    expect(from(messages, 'tanks/air-b/contact').at(-1)).toBe(0);
    expect(from(messages, 'tanks/circuit-2/contact').at(-1)).toBe(1);
    const aired = run.hatchery.tanks.filter(({ id }) => run.state.water[id]?.airOn).map(({ id }) => id);
    expect(aired).toEqual(['B1', 'B2', 'B3', 'B4', 'B5']);
  });

  it('in a power cut loses heaters, air, intake and boards of that circuit, and of no other', () => {
    const cut: Event = { kind: 'power-cut', circuit: 'circuit-2', ...span(5, 60) };
    const { run, messages } = minutes(night(saltmarshLane(7), [cut]), 60);
    const gone = messages.filter(({ kind }) => kind === 'will').map(({ board }) => board);
    expect(new Set(gone)).toEqual(new Set(['larval-1', 'larval-2', 'seed-1', 'seed-2']));
    expect(run.state.water.L2?.heaterOn).toBe(false);
    expect(run.state.airMainOn).toEqual({ 'air-a': true, 'air-b': false });
    expect(run.state.supply.seed?.headerL).toBeLessThan(500);
    expect(run.state.supply.north?.headerL).toBe(3000);
  });

  it('freshens the header first and its flow-through tanks after it when it rains into the intake', () => {
    const rain: Event = { kind: 'rain', line: 'seed', mmH: 15, ...span(0, 180) };
    const [wet, dry] = [[rain], []].map((events) => minutes(night(saltmarshLane(7), events), 180, 30).run.state);
    const loss = (read: (state: Run['state']) => number | undefined): number =>
      wet === undefined || dry === undefined ? Number.NaN : (read(dry) ?? Number.NaN) - (read(wet) ?? Number.NaN);
    expect(loss((state) => state.supply.seed?.salinity)).toBeGreaterThan(2);
    expect(loss((state) => state.water.U1?.salinity)).toBeGreaterThan(1);
    expect(loss((state) => state.water.U1?.salinity)).toBeLessThan(loss((state) => state.supply.seed?.salinity));
    expect(loss((state) => state.water.L3?.salinity)).toBe(0);
  });

  it('runs out of header water when the intake pump stops, and the flow of its tanks with it', () => {
    const off: Event = { kind: 'intake-pump-off', line: 'seed', ...span(0, 240) };
    const { run, messages } = minutes(night(saltmarshLane(7), [off]), 240, 10);
    expect(run.state.supply.seed?.headerL).toBeLessThan(25);
    expect(from(messages, 'tanks/U1/flow').at(-1)).toBeLessThan(0.3);
  });

  it('sends a message twice when its board stutters', () => {
    const stutter: Event = {
      kind: 'board-fault',
      board: 'north-2',
      fault: { kind: 'duplicates', share: 1 },
      ...span(0, 60),
    };
    const said = minutes(night(saltmarshLane(7), [stutter]), 2).messages.filter(
      ({ board, kind }) => board === 'north-2' && kind === 'reading',
    );
    expect(said.length % 2).toBe(0);
    expect(said[1]).toEqual(said[0]);
  });
});
