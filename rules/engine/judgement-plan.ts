import type { Condition, Standpoint } from '../conditions/condition.js';
import { CONDITIONS } from '../conditions/list.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Wants } from '../wire/picture.js';

export type JudgementPlan = {
  readonly condition: Condition;
  readonly subject: string;
  readonly place: number;
  readonly channel: number | undefined;
  readonly onDelayMs: number;
  readonly offDelayMs: number;
  readonly latching: boolean;
};

type Channel = {
  readonly id: string;
  readonly place: number;
  readonly quantity: Quantity;
  readonly position?: string | undefined;
  readonly computed: boolean;
  readonly wants?: Wants | undefined;
};

export type Subjects = {
  readonly siteId: string;
  readonly places: readonly Place[];
  readonly channels: readonly Channel[];
  /** Channels of each board. */
  readonly boards: ReadonlyMap<string, readonly number[]>;
};

type Where = {
  readonly at: Standpoint;
  readonly subject: string;
  readonly place: number;
  readonly channel?: number;
};

const OXYGEN: ReadonlySet<Quantity> = new Set<Quantity>(['oxygen-mg-l', 'oxygen-saturation']);

/** Oxygen reckoned into the other unit from a probe that has limits of its own: the same water would call twice. */
const isTwin = ({ quantity, computed, place }: Channel, channels: readonly Channel[]): boolean =>
  computed &&
  OXYGEN.has(quantity) &&
  channels.some(
    (other) =>
      !other.computed && other.place === place && OXYGEN.has(other.quantity) && other.wants?.limitLow !== undefined,
  );

const channelSites = ({ places, channels }: Subjects): readonly Where[] =>
  channels.flatMap((channel, index) => {
    const place = places[channel.place];
    return place === undefined
      ? []
      : [
          {
            at: { ...channel, place, isTwin: isTwin(channel, channels) },
            subject: channel.id,
            place: channel.place,
            channel: index,
          },
        ];
  });

const boardSites = ({ places, channels, boards }: Subjects): readonly Where[] =>
  [...boards].flatMap(([board, [first]]) => {
    const index = first === undefined ? undefined : channels[first]?.place;
    const place = index === undefined ? undefined : places[index];
    return index === undefined || place === undefined ? [] : [{ at: { place, board }, subject: board, place: index }];
  });

const sitesOf = (scope: Condition['scope'], subjects: Subjects): readonly Where[] => {
  const [first] = subjects.places;
  switch (scope) {
    case 'channel':
      return channelSites(subjects);
    case 'place':
      return subjects.places.map((place, index) => ({ at: { place }, subject: place.id, place: index }));
    case 'board':
      return boardSites(subjects);
    case 'site':
      return first === undefined ? [] : [{ at: { place: first }, subject: subjects.siteId, place: 0 }];
  }
};

/** Every condition at every subject at which it stands, in the order of the list of conditions. */
export const judgementsOf = (subjects: Subjects): readonly JudgementPlan[] =>
  CONDITIONS.flatMap((condition) =>
    sitesOf(condition.scope, subjects).flatMap(({ at, subject, place, channel }) => {
      if (!condition.standsAt(at)) return [];
      const { onDelayMs, offDelayMs, latching = false } = condition.timing(at);
      return [{ condition, subject, place, channel, onDelayMs, offDelayMs, latching }];
    }),
  );

/** Whether a condition looks when one of its channels is read; the others look at their own rhythm. */
export const looksAtReadings = ({ condition: { everyMs, atReadings } }: JudgementPlan): boolean =>
  atReadings ?? everyMs === undefined;
