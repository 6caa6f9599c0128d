import type { AlarmPicture } from '../alarm/alarm.js';
import type { Place } from '../place.js';
import type { LogLine } from '../wire/log.js';
import type { DeclaredWork } from '../work.js';
import { type CannotSay, cannotSay } from './cannot-say.js';
import type { ReviewedChannel } from './channel.js';
import { type FirstMover, firstMoverOf, type Moved } from './first-mover.js';
import { type Pattern, type PatternTank, patternOf } from './pattern.js';
import { measuredShare, type Wholeness } from './whole.js';
import type { Onset, ReviewWindow, WindowName } from './window.js';

export const REVIEW_STARTS = ['deaths', 'larvae-on-bottom', 'by-hand'] as const;
export type ReviewStart = (typeof REVIEW_STARTS)[number];

export type ReviewFacts = {
  readonly id: string;
  readonly start: ReviewStart;
  readonly entryId?: string;
  readonly remark?: string;
  /** The review that this is a new edition of. */
  readonly editionOf?: string;
  readonly frozenMs: number;
  readonly by: string;
  /** Newest change of the journal that is in it: what comes later is shown as later. */
  readonly sequence: number;
  readonly onset: Onset;
  readonly windows: readonly ReviewWindow[];
  readonly tanks: readonly PatternTank[];
  /** As they were set when it was frozen. */
  readonly places: readonly Place[];
  readonly channels: readonly ReviewedChannel[];
  readonly work: readonly DeclaredWork[];
  readonly alarms: readonly AlarmPicture[];
  readonly lines: readonly LogLine[];
  readonly record: Omit<Wholeness, 'channels'>;
};

/** What happened to tanks before deaths, as the record stood at one moment. It excludes or fails to exclude; it names no cause. */
export type Review = Omit<ReviewFacts, 'record'> & {
  readonly pattern: Pattern;
  readonly firstMover: FirstMover;
  readonly whole: Wholeness;
  readonly cannotSay: readonly CannotSay[];
};

const movedIn = ({ channels }: ReviewFacts): readonly Moved[] =>
  channels.flatMap(({ departure, placeId, part }) =>
    departure === undefined || part === 'unaffected'
      ? []
      : [{ ...departure, placeId, where: part === 'supply' ? ('supply' as const) : ('tank' as const) }],
  );

const wholeOf = ({ channels, record }: ReviewFacts): Wholeness => ({
  ...record,
  channels: channels.map(({ channelId, exposures, gaps }) => ({
    channelId,
    gaps,
    share: Object.fromEntries(
      Object.entries(exposures).flatMap(([window, exposure]) => {
        const share = measuredShare(exposure);
        return share === undefined ? [] : [[window, share]];
      }),
    ) as { readonly [window in WindowName]?: number },
  })),
});

/** Everything that follows from the facts. */
export const reviewOf = (facts: ReviewFacts): Review => {
  const { record: _, ...rest } = facts;
  const pattern = patternOf(facts.tanks);
  const firstMover = firstMoverOf(movedIn(facts));
  const whole = wholeOf(facts);
  const affected = facts.tanks.filter((tank) => tank.affected).map(({ placeId }) => placeId);
  const known = { ...facts, pattern, firstMover, whole, affected, alarms: facts.alarms.length };
  return { ...rest, pattern, firstMover, whole, cannotSay: cannotSay(known) };
};
