import type { ChannelState } from '../wire/picture.js';
import { at, type Draft, planOf } from './draft.js';
import { wantsNow } from './view.js';

/** A probe that hangs in the air, as far as the readings before tell. */
export const isOutOfWater = (draft: Draft, channel: number): boolean => {
  const { inWater, place } = at(planOf(draft).channels, channel);
  return inWater && at(draft.places, place).wet === 'dry';
};

const isRaw = (draft: Draft, judgements: readonly number[]): boolean => {
  for (const index of judgements) if (at(draft.judgements, index).raw) return true;
  return false;
};

/** The one state of the six that a screen shows, the worst thing about the channel first. */
const channelState = (draft: Draft, index: number, atMs: number): ChannelState => {
  const plan = at(planOf(draft).channels, index);
  const { value, badMs } = at(draft.channels, index);
  if (isRaw(draft, plan.silences)) return 'silent';
  if (plan.inWater && at(draft.places, plan.place).wet === 'dry') return 'out-of-water';
  if (badMs !== undefined) return 'not-plausible';
  if (value === undefined) return 'silent';
  if (isRaw(draft, plan.limits)) return 'outside-limit';
  const wants = wantsNow(planOf(draft), draft.channels, index, atMs);
  if (wants === undefined) return 'in-target';
  const { targetLow = -Infinity, targetHigh = Infinity } = wants;
  return value < targetLow || value > targetHigh ? 'outside-target' : 'in-target';
};

/** Notes that a channel moved, and since when it has been in the state that a screen shows. */
export const showChannel = (draft: Draft, index: number, atMs: number): void => {
  const now = at(draft.channels, index);
  const state = channelState(draft, index, atMs);
  if (now.shown?.state !== state) draft.channels[index] = { ...now, shown: { state, sinceMs: atMs } };
  draft.moved.add(index);
};

/** After deadlines: the channels that the fired judgements are about. */
export const showChannels = (draft: Draft, judgements: readonly number[], atMs: number): void => {
  const plan = planOf(draft);
  for (const judgement of judgements) {
    const { channel, place } = at(plan.judgements, judgement);
    const channels = channel === undefined ? at(plan.places, place).channels : [channel];
    for (const index of channels) showChannel(draft, index, atMs);
  }
};
