import type { Quantity } from '../quantity.js';
import { channelAfter } from './channel-after.js';
import { COMPUTATIONS, type Known } from './compute.js';
import { at, type Draft, planOf } from './draft.js';
import { isOutOfWater } from './shown.js';

/** An input older than this against the reading that starts a computation is no input. */
export const COMPANION_MS = 300_000;

const knownAt = (draft: Draft, place: number, atMs: number): Known => {
  const known: { [quantity in Quantity]?: number } = {};
  for (const index of at(planOf(draft).places, place).channels) {
    const { quantity, position } = at(planOf(draft).channels, index);
    const { value, atMs: valueMs, badMs } = at(draft.channels, index);
    if (position !== undefined || value === undefined || valueMs === undefined || badMs !== undefined) continue;
    if (Math.abs(valueMs - atMs) <= COMPANION_MS) known[quantity] = value;
  }
  return known;
};

export type Computed = {
  /** Channels that got a new value. */
  readonly channels: readonly number[];
  /** The conductivity says that there is no water at the probe. */
  readonly noWater: boolean;
};

/** Everything at the place that is computed from this channel, and from what that gives in turn. */
export const computeFrom = (draft: Draft, channel: number, atMs: number, heardMs: number | undefined): Computed => {
  const plan = planOf(draft);
  const { place, quantity, position } = at(plan.channels, channel);
  const changed: number[] = [];
  let noWater = false;
  if (position !== undefined) return { channels: changed, noWater };
  const fresh = new Set<Quantity>([quantity]);
  for (const index of at(plan.places, place).channels) {
    const target = at(plan.channels, index);
    if (!target.computed) continue;
    const computation = COMPUTATIONS.find(({ gives, from }) => gives === target.quantity && fresh.has(from));
    if (computation === undefined) continue;
    const answer = computation.run(knownAt(draft, place, atMs), plan.pressureKpa);
    if (answer === undefined) continue;
    if (!answer.ok) {
      noWater ||= answer.fault.code === 'impossible';
      continue;
    }
    const before = at(draft.channels, index);
    const { periodMs } = at(draft.channels, channel);
    draft.channels[index] = channelAfter(before, {
      atMs,
      value: answer.value,
      bad: false,
      periodMs,
      heardMs,
      isOut: isOutOfWater(draft, index),
    });
    fresh.add(target.quantity);
    changed.push(index);
  }
  return { channels: changed, noWater };
};
