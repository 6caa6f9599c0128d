import { hasLine } from '../quantity.js';
import type { NotWatched } from '../wire/picture.js';
import { at } from './draft.js';
import { channelPicture } from './picture.js';
import type { EngineState } from './state.js';

/** Why a channel is on the list. An unconfirmed limit is watched and sounds; it is listed so that somebody looks at it. */
export type WhyListed = NotWatched | 'unconfirmed';

export type NotWatchedRow = {
  readonly channelId: string;
  readonly placeId: string;
  readonly why: WhyListed;
  /** Since when, where that is known. */
  readonly sinceMs?: number;
};

/** A probe that nobody has served for so long is no longer vouched for. Common practice, no source. */
const SERVICE_MS = 30 * 86_400_000;

/** Every limit of a channel is put aside by a person: nobody would be called. */
const isMuted = ({ plan, judgements }: EngineState, channel: number): boolean =>
  plan.judgements.some(
    (judgement, index) =>
      judgement.channel === channel &&
      (at(judgements, index).alarm?.life.inhibits ?? []).some((inhibit) => inhibit !== 'suppressed'),
  );

const servedMs = ({ hatchery, places, plan }: EngineState, channel: number): number | undefined => {
  const { id, place } = at(plan.channels, channel);
  const sources = new Set(
    hatchery.mappings.filter(({ channelId }) => channelId === id).map(({ sourceId }) => sourceId),
  );
  const calibrated = hatchery.calibrations.filter(({ sourceId }) => sources.has(sourceId)).map(({ fromMs }) => fromMs);
  const served = at(places, place).done?.['probe-service'];
  const known = [...calibrated, ...(served === undefined ? [] : [served])];
  return known.length === 0 ? undefined : Math.max(...known);
};

const whyListed = (state: EngineState, channel: number): Omit<NotWatchedRow, 'channelId' | 'placeId'> | undefined => {
  const { notWatched, wants, sinceMs, computed } = channelPicture(state, channel);
  if (notWatched !== undefined) return { why: notWatched, ...(notWatched === 'silent' ? { sinceMs } : {}) };
  if (isMuted(state, channel)) return { why: 'muted' };
  const served = computed ? undefined : servedMs(state, channel);
  if (served !== undefined && state.nowMs - served > SERVICE_MS) return { why: 'probe-overdue', sinceMs: served };
  return wants?.confirmed === false ? { why: 'unconfirmed' } : undefined;
};

/**
 * The daily list: channels of places with animals for which nobody would be woken, or not for certain, each with its
 * first reason. Never an alarm. Measured channels whose computed one is watched instead (conductivity) are left out.
 */
export const notWatchedList = (state: EngineState): readonly NotWatchedRow[] =>
  state.plan.channels.flatMap(({ id, place, quantity }, channel) => {
    const { stage, id: placeId } = at(state.plan.places, place).place;
    if (stage === 'empty' || quantity === 'conductivity' || quantity === 'specific-conductance') return [];
    if (!hasLine(quantity)) return [];
    const row = whyListed(state, channel);
    return row === undefined ? [] : [{ channelId: id, placeId, ...row }];
  });
