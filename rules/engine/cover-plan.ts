import { COVERS, type Cover, type Reach } from '../alarm/cover.js';
import { parseChannelId } from '../channel.js';
import type { Place } from '../place.js';
import type { JudgementPlan } from './judgement-plan.js';
import { type Relations, suppliesOf } from './relations.js';

/** One judgement that stands behind another. */
export type Covering = { readonly over: number; readonly under: number; readonly reach: Reach };

export type CoverPlan = {
  readonly above: ReadonlyMap<number, readonly Covering[]>;
  readonly below: ReadonlyMap<number, readonly Covering[]>;
};

const keyOver = (reach: Reach, { subject, placeId }: Key): string =>
  reach === 'place' ? placeId : reach === 'site' ? '' : subject;

type Key = { readonly subject: string; readonly placeId: string };

const keysUnder = (
  reach: Reach,
  { subject, place, channel }: JudgementPlan,
  places: readonly Place[],
  { boardsOf }: Relations,
): readonly string[] => {
  const own = places[place];
  if (own === undefined) return [];
  if (reach === 'site') return [''];
  if (reach === 'channel') return [subject];
  if (reach === 'place') return [own.id];
  if (reach === 'supply') return suppliesOf(own);
  return channel === undefined ? [subject] : (boardsOf.get(subject) ?? []);
};

const isAbout = ({ subject, channel }: JudgementPlan, only: Cover['only']): boolean => {
  const quantity = channel === undefined ? undefined : parseChannelId(subject)?.quantity;
  return only === undefined || (quantity !== undefined && only.includes(quantity));
};

const pairs = (
  { over, under, reach, only }: Cover,
  judgements: readonly JudgementPlan[],
  places: readonly Place[],
  relations: Relations,
): readonly Covering[] => {
  const overs = new Map<string, number>();
  judgements.forEach(({ condition, subject, place }, index) => {
    if (condition.code === over) overs.set(keyOver(reach, { subject, placeId: places[place]?.id ?? '' }), index);
  });
  if (overs.size === 0) return [];
  return judgements.flatMap((judgement, index) =>
    under.includes(judgement.condition.code) && isAbout(judgement, only)
      ? keysUnder(reach, judgement, places, relations).flatMap((key) => {
          const found = overs.get(key);
          return found === undefined ? [] : [{ over: found, under: index, reach }];
        })
      : [],
  );
};

const by = (all: readonly Covering[], end: 'over' | 'under'): ReadonlyMap<number, readonly Covering[]> => {
  const groups = new Map<number, Covering[]>();
  for (const covering of all) groups.set(covering[end], [...(groups.get(covering[end]) ?? []), covering]);
  return groups;
};

/** Which judgement covers which, as the places, boards and supplies are now. */
export const coverPlan = (
  judgements: readonly JudgementPlan[],
  places: readonly Place[],
  relations: Relations,
): CoverPlan => {
  const all = COVERS.flatMap((cover) => pairs(cover, judgements, places, relations));
  return { above: by(all, 'under'), below: by(all, 'over') };
};
