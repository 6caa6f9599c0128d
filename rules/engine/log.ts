import { at, type Draft, planOf } from './draft.js';
import type { Happening } from './happening.js';
import { judgeOne } from './judging.js';
import type { PlaceNow } from './now.js';

const SAME_MOMENT_MS = 5 * 60_000;

type News<K extends Happening['kind']> = Extract<Happening, { kind: K }>;

const judgePlace = (draft: Draft, place: number, atMs: number): void => {
  planOf(draft).judgements.forEach((judgement, index) => {
    const { scope } = judgement.condition;
    if (judgement.place === place && (scope === 'place' || scope === 'channel')) judgeOne(draft, index, atMs, atMs);
  });
};

const changePlace = (draft: Draft, placeId: string, atMs: number, change: (now: PlaceNow) => PlaceNow): void => {
  const index = planOf(draft).relations.placeOf.get(placeId);
  if (index === undefined) return;
  draft.places[index] = change(at(draft.places, index));
  judgePlace(draft, index, atMs);
};

/** What the probe says now, to be held against the hand: undefined when it says nothing. */
const probeSays = (draft: Draft, { placeId, quantity }: News<'hand'>): number | undefined => {
  const plan = planOf(draft);
  const index = plan.channels.findIndex(
    (channel) =>
      channel.quantity === quantity &&
      channel.position === undefined &&
      at(plan.places, channel.place).place.id === placeId,
  );
  const { value, badMs, shown } = draft.channels[index] ?? {};
  return badMs !== undefined || shown?.state === 'silent' || shown?.state === 'out-of-water' ? undefined : value;
};

/** A measurement by hand, and beside it what the probe said at that moment. */
export const takeHand = (draft: Draft, news: News<'hand'>): void => {
  const { atMs, placeId, quantity, value, measuredMs = atMs } = news;
  // What the probe says now is no witness of a measurement of an hour ago.
  const probe = atMs - measuredMs <= SAME_MOMENT_MS ? probeSays(draft, news) : undefined;
  const measured = { atMs: measuredMs, value, ...(probe === undefined ? {} : { probe }) };
  changePlace(draft, placeId, atMs, (now) => ({ ...now, hand: { ...now.hand, [quantity]: measured } }));
};

/** Work that comes back was done. */
export const takeDone = (draft: Draft, { atMs, placeId, task, doneMs = atMs }: News<'done'>): void =>
  changePlace(draft, placeId, atMs, (now) => ({
    ...now,
    done: { ...now.done, [task]: Math.max(doneMs, now.done?.[task] ?? doneMs) },
  }));

/** Somebody is on site, or nobody is any more. */
export const takePresence = (draft: Draft, { atMs, onSite }: News<'presence'>): void => {
  if (draft.state.presence?.onSite === onSite) return;
  draft.state.presence = { onSite, sinceMs: atMs };
  planOf(draft).places.forEach((_, place) => {
    judgePlace(draft, place, atMs);
  });
};
