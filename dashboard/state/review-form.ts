import { type Signal, signal } from '@preact/signals';
import type { NewReview } from '../../rules/wire/review.js';
import { wallMs } from '../../rules/words/clock.js';

/** What a person saw, where no entry tells of it. */
export const SIGHTS = [
  ['by-hand', 'Dead animals'],
  ['larvae-on-bottom', 'Larvae on the bottom'],
] as const;
export type Sight = (typeof SIGHTS)[number][0];
export const isSight = (text: string): text is Sight => SIGHTS.some(([sight]) => sight === text);

type Fault = { readonly field: 'dead' | 'alive'; readonly detail: string };
export type BeginForm = {
  /** A sight, or the id of an entry. */
  readonly from: Signal<string>;
  readonly tanks: Signal<readonly string[]>;
  /** Local moments as they stand in their fields. */
  readonly dead: Signal<string>;
  readonly alive: Signal<string>;
  readonly remark: Signal<string>;
  readonly fault: Signal<Fault | undefined>;
};

type Known = { readonly tank: string | undefined; readonly from: string | undefined; readonly now: string };

export const newBegin = ({ tank, from, now }: Known): BeginForm => ({
  from: signal(from ?? 'by-hand'),
  tanks: signal(tank === undefined ? [] : [tank]),
  dead: signal(now),
  alive: signal(''),
  remark: signal(''),
  fault: signal(undefined),
});

/** What is asked of the gateway, or which time is wrong and how to mend it. */
export const reviewOfForm = (
  { from, tanks, dead, alive, remark }: BeginForm,
  zone: string,
): { readonly review: NewReview } | Fault => {
  const start = from.value;
  const [deadMs, aliveMs] = [wallMs(dead.value, zone), wallMs(alive.value, zone)];
  if (isSight(start) && deadMs === undefined) return { field: 'dead', detail: 'A day and a time, as on the wall.' };
  if (alive.value !== '' && aliveMs === undefined) return { field: 'alive', detail: 'A day and a time, or nothing.' };
  if (isSight(start) && aliveMs !== undefined && deadMs !== undefined && aliveMs >= deadMs)
    return { field: 'alive', detail: 'It has to lie before the first dead were seen.' };
  const words = remark.value.trim();
  const more = {
    tanks: tanks.value,
    ...(aliveMs === undefined ? {} : { aliveMs }),
    ...(words === '' ? {} : { remark: words }),
  };
  if (!isSight(start)) return { review: { start: 'deaths', entryId: start, ...more } };
  return { review: { start, ...more, ...(deadMs === undefined ? {} : { deadMs }) } };
};
