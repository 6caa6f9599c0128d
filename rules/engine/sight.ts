import type { Sight } from '../conditions/condition.js';
import type { Quantity } from '../quantity.js';
import { at, type Draft, planOf } from './draft.js';
import type { ChannelNow } from './now.js';
import { viewOf, wantsNow, workAt } from './view.js';

const besideOf = (draft: Draft, place: number, quantity: Quantity): ChannelNow | undefined => {
  const plan = planOf(draft);
  for (const index of at(plan.places, place).channels) {
    const channel = at(plan.channels, index);
    if (channel.quantity === quantity && channel.position === undefined) return draft.channels[index];
  }
  return undefined;
};

type Subject = { readonly subject: string; readonly place: number; readonly channel?: number | undefined };

/** What a condition sees; `atMs` in device time, `nowMs` the gateway's. */
export const sightOf = (draft: Draft, { subject, place, channel }: Subject, atMs: number, nowMs: number): Sight => {
  const { place: described } = at(planOf(draft).places, place);
  draft.view ??= viewOf(draft);
  return {
    atMs,
    nowMs,
    place: described,
    placeNow: at(draft.places, place),
    work: workAt(draft, described.id),
    subject,
    channel: channel === undefined ? undefined : at(draft.channels, channel),
    quantity: channel === undefined ? undefined : at(planOf(draft).channels, channel).quantity,
    computed: channel === undefined ? undefined : at(planOf(draft).channels, channel).computed,
    wants: channel === undefined ? undefined : wantsNow(planOf(draft), draft.channels, channel, atMs),
    beside: (quantity) => besideOf(draft, place, quantity),
    view: draft.view,
  };
};
