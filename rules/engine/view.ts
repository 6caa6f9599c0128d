import type { Companion, SeenChannel, Spot, View } from '../conditions/view.js';
import { canonicalFrom, type Quantity } from '../quantity.js';
import { wantsAt } from '../stage/wants.js';
import type { Wants } from '../wire/picture.js';
import type { DeclaredWork } from '../work.js';
import { at, type Draft, planOf } from './draft.js';
import type { ChannelNow } from './now.js';
import type { Plan } from './plan.js';
import { gathered } from './relations.js';

const NO_WORK: readonly DeclaredWork[] = [];

/** Declared at a place and not ended: sorted by place once, whenever the work changes. */
export const workAt = (draft: Draft, id: string): readonly DeclaredWork[] => {
  const { work } = draft.state;
  if (work.length === 0) return NO_WORK;
  if (draft.workBy?.from !== work) {
    const open = work.filter(({ endedMs }) => endedMs === undefined);
    draft.workBy = { from: work, at: gathered(open.map((declared) => [declared.placeId, declared])) };
  }
  return draft.workBy.at.get(id) ?? NO_WORK;
};

/** What a channel wants at a moment; the target moves where a schedule or another channel leads it. */
export const wantsNow = (
  plan: Plan,
  channels: readonly ChannelNow[],
  index: number,
  atMs: number,
): Wants | undefined => {
  const { moving, wants, place, quantity } = at(plan.channels, index);
  if (!moving) return wants;
  return wantsAt(at(plan.places, place).place, quantity, atMs, (placeId) => {
    const place = plan.relations.placeOf.get(placeId);
    const followed = place === undefined ? undefined : at(plan.places, place).channels;
    const leader = followed?.find((other) => {
      const { quantity: theirs, position } = at(plan.channels, other);
      return theirs === quantity && position === undefined;
    });
    const now = leader === undefined ? undefined : channels[leader];
    return now?.shown?.state === 'silent' || now?.badMs !== undefined ? undefined : now?.value;
  });
};

const seen = (draft: Draft, index: number): SeenChannel => {
  const plan = planOf(draft);
  const { id, quantity, position, computed, place } = at(plan.channels, index);
  const now = at(draft.channels, index);
  const wants = wantsNow(plan, draft.channels, index, draft.state.nowMs);
  return { id, quantity, position, computed, now, wants, place: at(plan.places, place).place };
};

const channelIn = (
  plan: Plan,
  channels: readonly number[],
  quantity: Quantity,
  position: string,
): number | undefined => {
  for (const index of channels) {
    const channel = at(plan.channels, index);
    if (channel.quantity === quantity && channel.position === position) return index;
  }
  return undefined;
};

const spot = (draft: Draft, index: number): Spot => {
  const { place } = at(planOf(draft).places, index);
  const { channels, channel } = lookAt(draft, index);
  return { place, now: at(draft.places, index), work: workAt(draft, place.id), channels, channel };
};

/** How the channels of a place are looked at: made once a group, because most conditions look at their own place. */
const lookAt = (draft: Draft, index: number): Pick<Spot, 'channels' | 'channel'> => {
  const known = draft.looks[index];
  if (known !== undefined) return known;
  const { channels, standing } = at(planOf(draft).places, index);
  const look: Pick<Spot, 'channels' | 'channel'> = {
    channels: () => channels.map((channel) => seen(draft, channel)),
    channel: (quantity, position) => {
      const found =
        position === undefined ? standing.get(quantity) : channelIn(planOf(draft), channels, quantity, position);
      return found === undefined ? undefined : seen(draft, found);
    },
  };
  draft.looks[index] = look;
  return look;
};

const spotsOf = (draft: Draft, indexes: readonly number[] | undefined): readonly Spot[] =>
  (indexes ?? []).map((index) => spot(draft, index));

/** Other probes mapped to the same channel, with their newest value corrected as the ruling one's is. */
const companions = (draft: Draft, channelId: string): readonly Companion[] => {
  const plan = planOf(draft);
  const channel = plan.channelOf.get(channelId);
  const indexes = channel === undefined ? undefined : plan.companionsOf.get(channel);
  return (indexes ?? []).flatMap((index) => {
    const probe = at(plan.probes, index);
    const { newestMs, newestRaw } = at(draft.probes, index);
    if (newestMs === undefined || newestRaw === undefined) return [];
    const converted = canonicalFrom(probe.quantity, probe.unit, newestRaw);
    return converted === undefined ? [] : [{ atMs: newestMs, value: probe.slope * converted + probe.offset }];
  });
};

const clockWrongMs = (draft: Draft, board: string): number | undefined => {
  const probes = planOf(draft).probesOn.get(board) ?? [];
  return probes.reduce<number | undefined>((first, index) => {
    const since = at(draft.probes, index).clockWrongMs;
    return since === undefined ? first : Math.min(since, first ?? since);
  }, undefined);
};

/** The hatchery as conditions may look at it: a window on the draft, made once and always up to date. */
export const viewOf = (draft: Draft): View => ({
  get site() {
    return draft.state.hatchery.site;
  },
  get pressureKpa() {
    return planOf(draft).pressureKpa;
  },
  get startedMs() {
    return draft.state.startedMs;
  },
  get link() {
    return draft.state.link;
  },
  get boards() {
    return draft.state.boards;
  },
  get presence() {
    return draft.state.presence;
  },
  get work() {
    return draft.state.work;
  },
  spotOf: (placeId) => {
    const index = placeId === undefined ? undefined : planOf(draft).relations.placeOf.get(placeId);
    return index === undefined ? undefined : spot(draft, index);
  },
  sharing: (supplyId) => (supplyId === undefined ? [] : spotsOf(draft, planOf(draft).relations.sharing.get(supplyId))),
  channelsOf: (board) => (planOf(draft).relations.channelsOf.get(board) ?? []).map((channel) => seen(draft, channel)),
  everyMeasured: (holds) =>
    planOf(draft).channels.every(({ computed }, index) => computed || holds(seen(draft, index))),
  measured: () => planOf(draft).channels.flatMap(({ computed }, index) => (computed ? [] : [seen(draft, index)])),
  boardOf: (channelId) => planOf(draft).relations.boardsOf.get(channelId)?.[0],
  companions: (channelId) => companions(draft, channelId),
  clockWrongMs: (board) => clockWrongMs(draft, board),
});
