import { restingBoard } from './board.js';
import type { Schedule } from './event.js';
import { byId, type Hatchery, type HatcheryState } from './hatchery.js';
import { readBoards, startHatchery, stepHatchery } from './hatchery-step.js';
import { placeName, type Quantity } from './probe.js';

/** One reading of the past, in the unit of its quantity, as the board took it. */
export type PastReading = {
  readonly board: string;
  readonly place: string;
  readonly quantity: Quantity;
  readonly atMs: number;
  readonly value: number;
};

export type PastSpan = { readonly fromMs: number; readonly toMs: number; readonly everyS: number };

const SETTLING_MS = 12 * 3_600_000;
const HOUR_MS = 3_600_000;

/**
 * History by the same water, probes and boards as the live hatchery, one step a reading. Yields it in portions of about
 * an hour, oldest first, and returns the hatchery as it stands at the end, from where the live one goes on.
 */
export function* livePast(
  hatchery: Hatchery,
  { fromMs, toMs, everyS }: PastSpan,
  schedule: Schedule,
): Generator<readonly PastReading[], HatcheryState> {
  const slow = withPeriod(hatchery, everyS);
  let state = startHatchery(slow, fromMs - SETTLING_MS);
  let portion: PastReading[] = [];
  let portionFromMs = fromMs;
  while (state.atMs < toMs) {
    const events = schedule(state.atMs);
    const dtS = Math.min(everyS, (toMs - state.atMs) / 1000);
    const read = readBoards(slow, stepHatchery(slow, state, dtS, events), events);
    state = read.state;
    if (state.atMs < fromMs) continue;
    for (const [board, { batches }] of Object.entries(read.steps)) {
      for (const batch of batches) portion.push(...readingsOf(board, batch));
    }
    if (state.atMs - portionFromMs < HOUR_MS) continue;
    yield portion;
    portion = [];
    portionFromMs = state.atMs;
  }
  if (portion.length > 0) yield portion;
  return {
    ...state,
    board: byId(hatchery.boards, ({ id }) => ({ ...restingBoard, felt: state.board[id]?.felt ?? {} })),
  };
}

const withPeriod = (hatchery: Hatchery, periodS: number): Hatchery => ({
  ...hatchery,
  boards: hatchery.boards.map((board) => ({ ...board, periodS, phaseS: 0 })),
});

type Batches = ReturnType<typeof readBoards>['steps'][string]['batches'];

const readingsOf = (board: string, { samples, takenMs }: Batches[number]): readonly PastReading[] =>
  samples.flatMap(({ probe: { place, quantity }, value }) =>
    typeof value === 'number' ? [{ board, place: placeName(place), quantity, atMs: takenMs, value }] : [],
  );
