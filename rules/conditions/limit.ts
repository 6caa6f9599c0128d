import type { Wants } from '../wire/picture.js';
import { checksFor } from './checks.js';
import type { Condition, Sight } from './condition.js';
import { crossed } from './crossed.js';
import { deadbandOf, limitTiming } from './delays.js';
import type { ConditionCode, Line, Priority } from './finding.js';

type Kind = {
  readonly code: ConditionCode;
  readonly kind: 'limit' | 'ceiling';
  readonly side: 'low' | 'high';
  readonly priority: Priority;
};

const KINDS: readonly Kind[] = [
  { code: 'above-ceiling', kind: 'ceiling', side: 'high', priority: 'high' },
  { code: 'below-ceiling', kind: 'ceiling', side: 'low', priority: 'high' },
  { code: 'above-limit', kind: 'limit', side: 'high', priority: 'medium' },
  { code: 'below-limit', kind: 'limit', side: 'low', priority: 'medium' },
];

const FIELD = {
  limit: { low: 'limitLow', high: 'limitHigh' },
  ceiling: { low: 'ceilingLow', high: 'ceilingHigh' },
} as const;

const lineOf = (wants: Wants | undefined, { kind, side }: Kind): Line | undefined => {
  const value = wants?.[FIELD[kind][side]];
  return value === undefined ? undefined : { kind, side, value };
};

/** Out of the water, or no value that could be water: it cannot be told. A delay that was running starts again. */
const isBlind = ({ channel, placeNow }: Sight): boolean =>
  channel?.value === undefined || channel.badMs !== undefined || placeNow.wet === 'dry';

const limitCondition = (kind: Kind): Condition => ({
  code: kind.code,
  scope: 'channel',
  standsAt: ({ wants }) => lineOf(wants, kind) !== undefined,
  timing: ({ place, quantity, periodMs }) =>
    kind.kind === 'ceiling'
      ? { onDelayMs: Math.min(2 * (periodMs ?? 10_000), 60_000), offDelayMs: 60_000 }
      : limitTiming(place, quantity),
  judge: (sight, before) => {
    const line = lineOf(sight.wants, kind);
    const value = sight.channel?.value;
    if (line === undefined || value === undefined || isBlind(sight)) return { raw: before.on ? undefined : false };
    const deadband = deadbandOf(sight.place, sight.quantity);
    const raw = crossed(before.raw, value, { side: kind.side, line: line.value, deadband });
    if (!raw && !before.on) return { raw };
    return {
      raw,
      finding: {
        priority: kind.priority,
        value,
        line,
        checks: checksFor(kind.side, sight.quantity, sight.place),
        ...(sight.wants?.confirmed === false ? { unconfirmed: true } : {}),
      },
    };
  },
});

/** Beyond the limit, and beyond the ceiling. The ceiling is never suspended and has no delay beyond two readings. */
export const LIMIT_CONDITIONS: readonly Condition[] = KINDS.map(limitCondition);
