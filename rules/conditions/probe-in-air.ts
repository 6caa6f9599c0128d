import type { Quantity } from '../quantity.js';
import { middle, rising } from '../statistics/quantile.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { Condition, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { isSomebodyThere } from './hour.js';
import { holdsAnimals } from './tolerance.js';
import { isLive } from './trend.js';
import { channelAt } from './view.js';

const MINUTE_MS = 60_000;

/** Nobody on site: somebody is called after this. People on site see it on the wall, and are called when they do not. */
export const ALONE_MS = 5 * MINUTE_MS;
export const SEEN_MS = 15 * MINUTE_MS;
/** A declared drain-down that has not begun to empty its own tank in this time may have emptied another. */
const SOON_MS = 3 * MINUTE_MS;

/** Wall first while people are there; later, or with nobody there, somebody is called. */
export const emptyingPriority = (
  { view, nowMs, place }: Sight,
  sinceMs: number,
): { readonly priority: Priority; readonly againAtMs?: number } => {
  if (!holdsAnimals(place)) return { priority: 'low' };
  const waitMs = isSomebodyThere(view, nowMs) ? SEEN_MS : ALONE_MS;
  const dueMs = sinceMs + waitMs;
  return nowMs >= dueMs ? { priority: 'medium' } : { priority: 'low', againAtMs: dueMs };
};

/** A tank on the same line is declared drained and is still full: was the wrong drain opened? */
export const isWrongTank = ({ place, view, nowMs }: Sight): boolean =>
  view
    .sharing(place.lineId)
    .some(
      (spot) =>
        spot.place.id !== place.id &&
        spot.now.wet === 'wet' &&
        channelAt(spot, 'temperature') !== undefined &&
        spot.work.some(({ kind, fromMs }) => kind === 'drain-down' && nowMs - fromMs >= SOON_MS),
    );

const CELL: ReturnType<typeof emptyingPriority> = { priority: 'low' };

export const emptyingFacts = (sight: Sight): readonly EvidenceCode[] => [
  ...(isWrongTank(sight) ? (['wrong-tank'] as const) : []),
  ...(isSomebodyThere(sight.view, sight.nowMs) ? [] : (['nobody-on-site'] as const)),
];

/** The other probes of a head that hangs in the air notice it: by so much against their last minutes in the water. */
const SIGN: readonly (readonly [quantity: Quantity, by: number])[] = [
  ['temperature', 0.4],
  ['oxygen-saturation', 3],
  ['oxygen-mg-l', 0.25],
];
/** Without any sign it is the cell, for this long; then nobody knows. */
const UNSIGNED_MS = 45 * MINUTE_MS;

const hasSign = ({ view, place, nowMs }: Sight): boolean => {
  const spot = view.spotOf(place.id);
  const seen = SIGN.flatMap(([quantity, by]) => {
    const found = channelAt(spot, quantity);
    // What is computed follows the cell, and so is no witness against it.
    if (found === undefined || found.computed || !isLive(found.now, nowMs)) return [];
    const channel = found.now;
    const hour = rising(channel.recent.map(([, value]) => value));
    const wet = middle(rising(channel.recent.slice(-4).map(([, value]) => value)));
    const [low, high] = [hour[0], hour.at(-1)];
    if (wet === undefined || low === undefined || high === undefined) return [];
    // A thermostat's swing is no sign: it goes where it has been within the hour.
    const isNew = channel.value > high + by / 2 || channel.value < low - by / 2;
    return [isNew && Math.abs(channel.value - wet) >= by];
  });
  return seen.length === 0 || seen.includes(true);
};

/** Probe out of the water, or the tank drained, and nobody said so. A stuck fresh-water valve looks the same. */
export const PROBE_IN_AIR: Condition = {
  code: 'probe-in-air',
  scope: 'place',
  standsAt: ({ place }) => place.kind === 'tank',
  timing: () => ({ onDelayMs: 2 * MINUTE_MS, offDelayMs: 0 }),
  judge: (sight) => {
    const { placeNow, nowMs } = sight;
    if (placeNow.wet !== 'dry') return { raw: false };
    const dryMs = placeNow.dryMs ?? nowMs;
    const isCell = nowMs - dryMs < UNSIGNED_MS && !hasSign(sight);
    const { priority, againAtMs } = isCell ? CELL : emptyingPriority(sight, dryMs);
    const evidence: readonly EvidenceCode[] = [
      ...(isCell ? (['looks-like-probe'] as const) : []),
      ...emptyingFacts(sight),
    ];
    const wrong = evidence.includes('wrong-tank') ? (['wrong-tank'] as const) : [];
    return {
      raw: true,
      ...(againAtMs === undefined ? {} : { againAtMs }),
      finding: { priority, evidence, checks: ['heater-off-at-wall', ...wrong, 'look-at-tank', 'probe-back'] },
    };
  },
};
