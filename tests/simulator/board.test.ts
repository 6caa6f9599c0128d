import { describe, expect, it } from 'vitest';
import {
  type Board,
  type BoardAround,
  type BoardState,
  type BoardStep,
  restingBoard,
  stepBoard,
} from '../../simulator/board.js';
import { type Event, inForce } from '../../simulator/event.js';
import type { BoardFault, ProbeFault } from '../../simulator/fault.js';
import { probesIn } from '../../simulator/world/build.js';

const START = Date.UTC(2026, 5, 3, 2);
const board: Board = {
  id: 'b',
  circuit: 'c',
  periodS: 10,
  phaseS: 0,
  form: 'object',
  stamps: 'seconds',
  clockAheadMs: 0,
  holds: 6,
  probes: probesIn('L3', 0.2, ['temperature', 'conductivity']),
};

type Seen = BoardStep & { readonly atMs: number };

/** Two minutes of the board, a step a second; powered as told. */
const watch = (own: Partial<Board>, events: readonly Event[], powered: (second: number) => boolean = () => true) => {
  const one = { ...board, ...own };
  let state: BoardState = restingBoard;
  return Array.from({ length: 120 }, (_, second): Seen => {
    const atMs = START + second * 1000;
    const around: BoardAround = {
      powered: powered(second),
      atMs,
      events: inForce(events, atMs),
      seed: 3,
      truthOf: () => ({ value: 23, inAir: false, calm: false }),
    };
    const step = stepBoard(state, one, around);
    state = step.state;
    return { ...step, atMs };
  });
};

const fault = (what: BoardFault, fromS: number, toS: number): Event => ({
  kind: 'board-fault',
  board: 'b',
  fault: what,
  fromMs: START + fromS * 1000,
  toMs: START + toS * 1000,
});

const rounds = (seen: readonly Seen[]) =>
  seen.flatMap(({ atMs, batches }) => batches.map((batch) => ({ ...batch, sentMs: atMs })));
const seconds = (ms: number | undefined): number => ((ms ?? Number.NaN) - START) / 1000;

describe('a simulated board', () => {
  it('speaks once a period, at whole multiples of it', () => {
    expect(rounds(watch({}, [])).map(({ takenMs }) => seconds(takenMs))).toEqual([
      0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110,
    ]);
    expect(
      rounds(watch({ phaseS: 4 }, []))
        .map(({ takenMs }) => seconds(takenMs))
        .slice(1, 3),
    ).toEqual([4, 14]);
  });

  it('stamps its readings by its own clock, or not at all', () => {
    expect(rounds(watch({ clockAheadMs: 2500 }, []))[1]?.stampMs).toBe(START + 12_500);
    expect(rounds(watch({ stamps: 'none' }, []))[1]?.stampMs).toBeUndefined();
    expect(rounds(watch({ form: 'bare' }, []))[1]?.stampMs).toBeUndefined();
  });

  it('without a link and without memory loses its readings; the broker is left to say that it is gone', () => {
    const seen = watch({}, [fault({ kind: 'offline', buffers: false }, 15, 65)]);
    expect(rounds(seen).map(({ takenMs }) => seconds(takenMs))).toEqual([0, 10, 70, 80, 90, 100, 110]);
    expect(seen.filter(({ link }) => link === 'lost').map(({ atMs }) => seconds(atMs))).toEqual([15]);
    expect(seen.filter(({ link }) => link === 'came').map(({ atMs }) => seconds(atMs))).toEqual([0, 65]);
  });

  it('with memory sends what it kept in one burst, oldest first and stamped with the time it was taken', () => {
    const late = rounds(watch({}, [fault({ kind: 'offline', buffers: true }, 15, 65)])).filter(
      ({ sentMs }) => seconds(sentMs) === 65,
    );
    expect(late.map(({ stampMs }) => seconds(stampMs))).toEqual([20, 30, 40, 50, 60]);
  });

  it('forgets the oldest when its memory is full', () => {
    const late = rounds(watch({ holds: 2 }, [fault({ kind: 'offline', buffers: true }, 15, 65)]));
    expect(late.map(({ takenMs }) => seconds(takenMs)).slice(0, 4)).toEqual([0, 10, 50, 60]);
  });

  it('counts from 1970 after a reboot until it learns the time', () => {
    const stamps = rounds(watch({}, [fault({ kind: 'reboot', silentS: 20 }, 25, 85)])).map(({ stampMs }) => stampMs);
    expect(stamps.slice(0, 3).map(seconds)).toEqual([0, 10, 20]);
    // It reads its probes as soon as it has started, at 45 s, and then in its usual rhythm.
    expect(stamps.slice(3, 8)).toEqual([0, 5000, 15_000, 25_000, 35_000]);
    expect(stamps.slice(8).map(seconds)).toEqual([90, 100, 110]);
  });

  it('can be hours off', () => {
    const [first] = rounds(watch({}, [fault({ kind: 'wrong-clock', byMs: -7_200_000 }, 0, 60)]));
    expect(first?.stampMs).toBe(START - 7_200_000);
  });

  it('says nothing in a power cut and has nothing to tell afterwards', () => {
    const seen = watch({}, [], (second) => second < 15 || second >= 65);
    expect(rounds(seen).map(({ takenMs }) => seconds(takenMs))).toEqual([0, 10, 65, 70, 80, 90, 100, 110]);
    expect(seen.at(-1)?.state.bootedAtMs).toBe(START + 65_000);
  });

  it('passes on what its probe claims: a stuck value stays to the last digit, a silent one leaves the rest', () => {
    const wrong = (what: ProbeFault): Event => ({
      kind: 'probe-fault',
      place: 'L3',
      quantity: 'temperature',
      fault: what,
      fromMs: START + 15_000,
      toMs: START + 120_000,
    });
    const temperatures = (events: readonly Event[]) =>
      rounds(watch({}, events)).flatMap(({ samples }) =>
        samples.filter((sample) => sample.probe.quantity === 'temperature').map(({ value }) => value),
      );
    const stuck = temperatures([wrong({ kind: 'stuck' })]);
    expect(new Set(stuck.slice(1)).size).toBe(1);
    expect(new Set(temperatures([])).size).toBeGreaterThan(3);
    expect(temperatures([wrong({ kind: 'silent' })])).toHaveLength(2);
    expect(
      rounds(watch({}, [wrong({ kind: 'silent' })]))
        .at(-1)
        ?.samples.map(({ probe }) => probe.quantity),
    ).toEqual(['conductivity']);
  });
});
