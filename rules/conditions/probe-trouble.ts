import type { Quantity } from '../quantity.js';
import type { Condition, Sight } from './condition.js';
import { trembling } from './habit.js';
import { isLive, unbroken } from './trend.js';

/*
 * Probes that go wrong while what they say is still water. All of it is for the morning: the water conditions go on with
 * what the probe says. Figures: common practice, no source.
 */
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Two probes in one water may be so far apart, canonical unit; no line for the others. */
const APART: { readonly [quantity in Quantity]?: number } = {
  temperature: 0.5,
  conductivity: 1.5,
  'specific-conductance': 1.5,
  salinity: 1,
  'oxygen-mg-l': 0.7,
  'oxygen-saturation': 9,
  ph: 0.2,
};

const measuresWater = ({
  quantity,
  computed,
}: {
  readonly quantity?: Quantity;
  readonly computed?: boolean;
}): boolean => quantity !== undefined && APART[quantity] !== undefined && computed !== true;

const STUCK_MINUTES = 50;
/** Hours in which it moved, of the last twelve: it is not honestly flat. */
const LIVELY_SHARE = 0.8;
const FEWEST_HOURS = 6;

const isFlat = ({ channel, nowMs }: Sight): boolean => {
  if (channel === undefined) return false;
  const points = unbroken(channel, nowMs - HOUR_MS);
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || last[0] - first[0] < STUCK_MINUTES * MINUTE_MS) return false;
  return points.every(([, value]) => value === first[1]);
};

const wasLively = ({ channel, nowMs }: Sight): boolean => {
  const rows = (channel?.hours ?? []).filter(
    ([startMs]) => startMs >= nowMs - 13 * HOUR_MS && startMs <= nowMs - 2 * HOUR_MS,
  );
  return (
    rows.length >= FEWEST_HOURS && rows.filter(([, low, , high]) => high > low).length >= LIVELY_SHARE * rows.length
  );
};

/** Another probe in the same water moved in that time. */
const companyMoved = ({ view, place, subject, nowMs }: Sight): boolean =>
  (view.spotOf(place.id)?.channels() ?? []).some(({ id, computed, quantity, now }) => {
    if (id === subject || computed || quantity === 'contact' || !isLive(now, nowMs)) return false;
    const values = unbroken(now, nowMs - HOUR_MS).map(([, value]) => value);
    return values.some((value) => value !== values[0]);
  });

/** Not one digit moved for most of an hour, in a trace that always moves, while other probes in the water did. */
export const STUCK: Condition = {
  code: 'stuck',
  scope: 'channel',
  everyMs: 5 * MINUTE_MS,
  standsAt: measuresWater,
  timing: () => ({ onDelayMs: 10 * MINUTE_MS, offDelayMs: 0 }),
  judge: (sight, before) => {
    const { channel, placeNow, nowMs } = sight;
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    if (!isFlat(sight)) return { raw: false };
    if (!before.raw && !(wasLively(sight) && companyMoved(sight))) return { raw: false };
    return { raw: true, finding: { priority: 'low', value: channel.value, checks: ['probe-cable', 'hand-reading'] } };
  },
};

const NOISY_TIMES = 4;
const SPAN_MS = 30 * MINUTE_MS;
/** A hundredth of its usual trembling is taken in at each look: the usual is that of the last day. */
const WEIGHT = 0.01;
const FEWEST_LOOKS = 36;

/** The trace trembles far more than it used to: a cable, a wet plug, a probe near its end. */
export const NOISY: Condition = {
  code: 'noisy',
  scope: 'channel',
  everyMs: 5 * MINUTE_MS,
  standsAt: measuresWater,
  timing: () => ({ onDelayMs: 20 * MINUTE_MS, offDelayMs: 20 * MINUTE_MS }),
  judge: ({ channel, quantity, placeNow, nowMs }, before) => {
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const now = trembling(channel, nowMs, SPAN_MS);
    if (now === undefined) return { raw: before.on ? undefined : false };
    const { usual, looks } = before.memory ?? {};
    const known = typeof usual === 'number' && typeof looks === 'number' ? { usual, looks } : { usual: now, looks: 0 };
    const floor = ((quantity === undefined ? undefined : APART[quantity]) ?? 1) / 10;
    const raw = known.looks >= FEWEST_LOOKS && now > Math.max(floor, NOISY_TIMES * known.usual);
    // What is noisy now teaches nothing about what is usual.
    if (raw)
      return { raw, finding: { priority: 'low', value: channel.value, checks: ['probe-cable', 'probe-bubble'] } };
    return {
      raw,
      memory: { usual: known.usual + WEIGHT * (now - known.usual), looks: Math.min(FEWEST_LOOKS, known.looks + 1) },
    };
  },
};

const HAND_GOOD_MS = 7 * DAY_MS;
const SAME_TIME_MS = 5 * MINUTE_MS;

const apartFromCompanion = ({ view, subject, channel, nowMs }: Sight, most: number): boolean =>
  view
    .companions(subject)
    .some(
      ({ atMs, value }) =>
        Math.abs(nowMs - atMs) <= SAME_TIME_MS &&
        channel?.value !== undefined &&
        Math.abs(channel.value - value) > most,
    );

const apartFromHand = ({ placeNow, quantity, nowMs }: Sight, most: number): boolean => {
  const hand = quantity === undefined ? undefined : placeNow.hand?.[quantity];
  if (hand?.probe === undefined || nowMs - hand.atMs > HAND_GOOD_MS) return false;
  return Math.abs(hand.probe - hand.value) > most;
};

/** Away from the second probe in the same water, or from the last measurement by hand. */
export const DRIFTING: Condition = {
  code: 'drifting',
  scope: 'channel',
  everyMs: 5 * MINUTE_MS,
  standsAt: ({ quantity }) => quantity !== undefined && APART[quantity] !== undefined,
  timing: () => ({ onDelayMs: 30 * MINUTE_MS, offDelayMs: 30 * MINUTE_MS }),
  judge: (sight, before) => {
    const { channel, quantity, placeNow, nowMs } = sight;
    const most = quantity === undefined ? undefined : APART[quantity];
    if (most === undefined || placeNow.wet === 'dry' || !isLive(channel, nowMs))
      return { raw: before.on ? undefined : false };
    const [companion, hand] = [apartFromCompanion(sight, most), apartFromHand(sight, most)];
    if (!companion && !hand) return { raw: false };
    return {
      raw: true,
      finding: {
        priority: 'low',
        value: channel.value,
        evidence: [
          ...(companion ? (['companion-disagrees'] as const) : []),
          ...(hand ? (['hand-disagrees'] as const) : []),
        ],
        checks: ['second-probe', 'probe-bubble', 'hand-reading'],
      },
    };
  },
};
