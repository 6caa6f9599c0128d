import { type Event, scheduleOf } from '../event.js';
import { readBoards, startHatchery, stepHatchery } from '../hatchery-step.js';
import { channelOf, dieOffPlant, SOURCES } from './die-off-plant.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const SETTLING_MS = 12 * HOUR_MS;
const STEP_S = 60;

/** Times of a die-off whose deaths are written down at `deadMs`, ten in the morning of the site. */
export type DieOff = {
  readonly startMs: number;
  readonly deadMs: number;
  /** The header's heater hangs from two in the night until somebody finds it. */
  readonly sticks: { readonly fromMs: number; readonly toMs: number };
  /** The board of three affected tanks is silent for 40 minutes while the water is hot. */
  readonly outage: { readonly fromMs: number; readonly toMs: number };
  /** N2 stands dry for 40 minutes of the afternoon before, declared. */
  readonly drained: { readonly fromMs: number; readonly toMs: number };
};

export const dieOffAt = (deadMs: number, days = 4): DieOff => ({
  startMs: deadMs - days * 24 * HOUR_MS,
  deadMs,
  sticks: { fromMs: deadMs - 8 * HOUR_MS, toMs: deadMs - 2.5 * HOUR_MS },
  outage: { fromMs: deadMs - 6 * HOUR_MS, toMs: deadMs - 6 * HOUR_MS + 40 * MINUTE_MS },
  drained: { fromMs: deadMs - 20 * HOUR_MS, toMs: deadMs - 20 * HOUR_MS + 40 * MINUTE_MS },
});

const eventsOf = ({ outage, drained }: DieOff): readonly Event[] => [
  { kind: 'board-fault', board: 'warm-1', fault: { kind: 'offline', buffers: false }, ...outage },
  { kind: 'drain-down', tank: 'n2', declared: true, ...drained },
];

/** Place in SOURCES, time, value. */
export type Read = readonly [source: number, atMs: number, value: number];

/** Every reading of the days before, an hour at a time, oldest first. */
export function* dieOffReadings(dieOff: DieOff, seed: number): Generator<readonly Read[]> {
  const [sound, stuck] = [dieOffPlant(seed, false), dieOffPlant(seed, true)];
  const schedule = scheduleOf(eventsOf(dieOff));
  const numberOf = new Map(SOURCES.map(({ channelId }, number) => [channelId, number]));
  let state = startHatchery(sound, dieOff.startMs - SETTLING_MS);
  let portion: Read[] = [];
  while (state.atMs < dieOff.deadMs) {
    const { fromMs, toMs } = dieOff.sticks;
    const plant = state.atMs >= fromMs && state.atMs < toMs ? stuck : sound;
    const events = schedule(state.atMs);
    const read = readBoards(plant, stepHatchery(plant, state, STEP_S, events), events);
    state = read.state;
    if (state.atMs < dieOff.startMs) continue;
    for (const { batches } of Object.values(read.steps)) {
      for (const { takenMs, samples } of batches) {
        for (const { probe, value } of samples) {
          const number = numberOf.get(channelOf(probe));
          if (number !== undefined && typeof value === 'number') portion.push([number, takenMs, value]);
        }
      }
    }
    if (state.atMs % HOUR_MS !== 0) continue;
    yield portion;
    portion = [];
  }
  if (portion.length > 0) yield portion;
}
