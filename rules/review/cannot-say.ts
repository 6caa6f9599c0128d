import type { Place } from '../place.js';
import { isQuantity, type Quantity } from '../quantity.js';
import type { GapReason } from '../wire/api.js';
import type { ReviewedChannel } from './channel.js';
import type { FirstMover } from './first-mover.js';
import type { Pattern, SharedKind } from './pattern.js';
import type { Wholeness } from './whole.js';
import type { Onset } from './window.js';

/** What this record cannot support, each with what makes it so here. rules/words/review.ts says it. */
export type CannotSay =
  | { readonly code: 'no-proof-of-life' }
  | { readonly code: 'onset-wide'; readonly hours: number }
  | { readonly code: 'not-measured'; readonly quantity: Quantity; readonly placeIds: readonly string[] }
  | { readonly code: 'no-probe-in-bed'; readonly placeIds: readonly string[] }
  | { readonly code: 'silent'; readonly channelId: string; readonly reason: GapReason; readonly hours: number }
  | { readonly code: 'never-read'; readonly channelId: string }
  | { readonly code: 'only-hours'; readonly channelId: string }
  | { readonly code: 'no-limit'; readonly channelId: string }
  | { readonly code: 'limit-not-confirmed'; readonly channelId: string }
  | { readonly code: 'put-aside'; readonly times: number }
  | { readonly code: 'clock-wrong'; readonly times: number }
  | { readonly code: 'order-unsettled'; readonly channelIds: readonly string[] }
  | { readonly code: 'oxygen-may-follow'; readonly channelIds: readonly string[] }
  | { readonly code: 'rivals'; readonly kinds: readonly SharedKind[] }
  | { readonly code: 'few-tanks'; readonly of: number }
  | { readonly code: 'alarms-are-no-proof'; readonly alarms: number }
  | { readonly code: (typeof ALWAYS)[number] };

/** True of every record. Source: the working rules of the trade for a record after deaths. */
const ALWAYS = [
  'no-cause',
  'probe-place',
  'no-alarm-no-proof',
  'nothing-living-measured',
  'log-silence',
  'counts-are-intervals',
  'settles-nothing',
] as const;

export type Known = {
  readonly onset: Onset;
  readonly pattern: Pattern;
  readonly firstMover: FirstMover;
  readonly whole: Wholeness;
  readonly channels: readonly ReviewedChannel[];
  readonly places: readonly Place[];
  readonly affected: readonly string[];
  readonly alarms: number;
};

/** What a tank of animals is usually asked about: where none of the pair is measured, it is said. */
const ASKED: readonly (readonly Quantity[])[] = [
  ['temperature'],
  ['salinity', 'conductivity', 'specific-conductance'],
  ['oxygen-saturation', 'oxygen-mg-l'],
  ['ph'],
];
const WIDE_H = 12;
const FEW_TANKS = 12;
/** A shorter sum of silence is not worth a sentence of its own; it is in the table. */
const SILENT_H = 0.5;

const notMeasured = ({ affected, channels }: Known): readonly CannotSay[] =>
  ASKED.flatMap((quantities) => {
    const without = affected.filter(
      (id) => !channels.some(({ placeId, quantity }) => placeId === id && quantities.includes(quantity)),
    );
    const [quantity] = quantities;
    return without.length === 0 || quantity === undefined || !isQuantity(quantity)
      ? []
      : [{ code: 'not-measured' as const, quantity, placeIds: without }];
  });

const noProbeInBed = ({ affected, places, channels }: Known): readonly CannotSay[] => {
  const without = affected.filter((id) => {
    const bed = places.find((place) => place.id === id)?.bed;
    return (
      bed !== undefined && !channels.some(({ placeId, channelId }) => placeId === id && channelId.endsWith('.bed'))
    );
  });
  return without.length === 0 ? [] : [{ code: 'no-probe-in-bed', placeIds: without }];
};

const aboutChannel = ({ channelId, exposures, readings, wants, part }: ReviewedChannel): readonly CannotSay[] => {
  if (part === 'unaffected') return [];
  if (readings === 0) return [{ code: 'never-read', channelId }];
  const lines = wants.at(-1)?.wants;
  const hasLimit = lines?.limitLow !== undefined || lines?.limitHigh !== undefined;
  const silences = Object.entries(exposures['72h']?.unmeasuredH ?? {}) as readonly (readonly [GapReason, number])[];
  return [
    ...silences.flatMap(([reason, hours]): readonly CannotSay[] =>
      hours < SILENT_H ? [] : [{ code: 'silent', channelId, reason, hours }],
    ),
    ...(exposures['14d']?.ofHours === true ? [{ code: 'only-hours' as const, channelId }] : []),
    ...(part === 'affected' && !hasLimit ? [{ code: 'no-limit' as const, channelId }] : []),
    ...(part === 'affected' && hasLimit && lines?.confirmed === false
      ? [{ code: 'limit-not-confirmed' as const, channelId }]
      : []),
  ];
};

const aboutOnset = ({ onset: { certainAliveMs, certainDeadMs } }: Known): readonly CannotSay[] => {
  if (certainAliveMs === undefined) return [{ code: 'no-proof-of-life' }];
  const hours = (certainDeadMs - certainAliveMs) / 3_600_000;
  return hours < WIDE_H ? [] : [{ code: 'onset-wide', hours }];
};

const aboutOrder = ({ firstMover: { first, together, order } }: Known): readonly CannotSay[] => {
  const oxygen = order.filter(({ where, channelId }) => where === 'tank' && channelId.includes('.oxygen-'));
  return [
    ...(first === undefined || together.length === 0
      ? []
      : [{ code: 'order-unsettled' as const, channelIds: [first, ...together].map(({ channelId }) => channelId) }]),
    ...(oxygen.length === 0
      ? []
      : [{ code: 'oxygen-may-follow' as const, channelIds: oxygen.map(({ channelId }) => channelId) }]),
  ];
};

const aboutPattern = ({
  pattern: { rivals, of },
  whole: { putAside, clocks },
  alarms,
}: Known): readonly CannotSay[] => [
  ...(rivals.length === 0 ? [] : [{ code: 'rivals' as const, kinds: [...new Set(rivals.map(({ kind }) => kind))] }]),
  ...(of >= FEW_TANKS ? [] : [{ code: 'few-tanks' as const, of }]),
  ...(putAside.length === 0 ? [] : [{ code: 'put-aside' as const, times: putAside.length }]),
  ...(clocks.length === 0 ? [] : [{ code: 'clock-wrong' as const, times: clocks.length }]),
  ...(alarms === 0 ? [] : [{ code: 'alarms-are-no-proof' as const, alarms }]),
];

/** This case's gaps first, then what no record can say. */
export const cannotSay = (known: Known): readonly CannotSay[] => [
  ...aboutOnset(known),
  ...notMeasured(known),
  ...noProbeInBed(known),
  ...known.channels.flatMap(aboutChannel),
  ...aboutOrder(known),
  ...aboutPattern(known),
  ...ALWAYS.map((code) => ({ code })),
];
