import type { Sight } from '../conditions/condition.js';
import type { Quantity } from '../quantity.js';
import { at, type Draft, planOf } from './draft.js';
import type { ChannelNow } from './now.js';
import { viewOf, wantsNow, workAt } from './view.js';

const besideOf = (draft: Draft, place: number, quantity: Quantity): ChannelNow | undefined => {
  const index = at(planOf(draft).places, place).standing.get(quantity);
  return index === undefined ? undefined : draft.channels[index];
};

type Subject = { readonly subject: string; readonly place: number; readonly channel?: number | undefined };

/** What a condition sees; `atMs` in device time, `nowMs` the gateway's. */
export const sightOf = (draft: Draft, { subject, place, channel }: Subject, atMs: number, nowMs: number): Sight => {
  const { place: described } = at(planOf(draft).places, place);
  const own = channel === undefined ? undefined : at(planOf(draft).channels, channel);
  draft.view ??= viewOf(draft);
  return {
    atMs,
    nowMs,
    place: described,
    placeNow: at(draft.places, place),
    work: workAt(draft, described.id),
    subject,
    channel: channel === undefined ? undefined : at(draft.channels, channel),
    quantity: own?.quantity,
    computed: own?.computed,
    wants: channel === undefined ? undefined : wantsNow(planOf(draft), draft.channels, channel, atMs),
    beside: (quantity) => besideOf(draft, place, quantity),
    view: draft.view,
  };
};
