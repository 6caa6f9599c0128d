import type { Quantity } from '../quantity.js';
import { channelAfter } from './channel-after.js';
import { COMPUTATIONS, type Computation, type Known } from './compute.js';
import { at, type Draft, planOf } from './draft.js';
import { isOutOfWater } from './shown.js';

/** An input older than this against the reading that starts a computation is no input. */
export const COMPANION_MS = 300_000;

const knownAt = (draft: Draft, place: number, { from, needs }: Computation, atMs: number): Known => {
  const known: { [quantity in Quantity]?: number } = {};
  const { standing } = at(planOf(draft).places, place);
  const note = (quantity: Quantity): void => {
    const index = standing.get(quantity);
    if (index === undefined) return;
    const { value, atMs: valueMs, badMs } = at(draft.channels, index);
    if (value === undefined || valueMs === undefined || badMs !== undefined) return;
    if (Math.abs(valueMs - atMs) <= COMPANION_MS) known[quantity] = value;
  };
  note(from);
  for (const quantity of needs) note(quantity);
  return known;
};

export type Computed = {
  /** Channels that got a new value. */
  readonly channels: readonly number[];
  /** The conductivity says that there is no water at the probe. */
  readonly noWater: boolean;
};

export const NOTHING_COMPUTED: Computed = { channels: [], noWater: false };

/** Everything at the place that is computed from this channel, and from what that gives in turn. */
export const computeFrom = (draft: Draft, channel: number, atMs: number, heardMs: number | undefined): Computed => {
  const plan = planOf(draft);
  const { place, quantity, position, feeds } = at(plan.channels, channel);
  if (!feeds || position !== undefined) return NOTHING_COMPUTED;
  const changed: number[] = [];
  let noWater = false;
  const fresh: Quantity[] = [quantity];
  for (const index of at(plan.places, place).computed) {
    const target = at(plan.channels, index);
    const computation = COMPUTATIONS.find(({ gives, from }) => gives === target.quantity && fresh.includes(from));
    if (computation === undefined) continue;
    const answer = computation.run(knownAt(draft, place, computation, atMs), plan.pressureKpa);
    if (answer === undefined) continue;
    if (!answer.ok) {
      noWater ||= answer.fault.code === 'impossible';
      continue;
    }
    const { periodMs } = at(draft.channels, channel);
    const heard = { atMs, value: answer.value, bad: false, periodMs, heardMs, isOut: isOutOfWater(draft, index) };
    draft.channels[index] = channelAfter(at(draft.channels, index), heard);
    fresh.push(target.quantity);
    changed.push(index);
  }
  return { channels: changed, noWater };
};
