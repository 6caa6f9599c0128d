import type { Bed } from '../../rules/place.js';

const DAY_MS = 86_400_000;

/** What the people of the demo have seen of their beds: two were looked at each week or so, the others never. */
const SEEN: {
  readonly [tankId: string]: readonly (readonly [daysAgo: number, seenMm: number, estimatedMm?: number])[];
} = {
  B1: [
    [17, 9.5],
    [10, 8, 9.1],
    [3.2, 8.5, 7.8],
  ],
  B3: [
    [13, 7],
    [5.1, 6.5, 7.4],
  ],
};
/** What makes such a layer of such a bed, in their water. */
const TRANSPORT = 8;

export const lookedAt = (tankId: string, nowMs: number): Pick<Bed, 'calibration' | 'looks'> => {
  const seen = SEEN[tankId]?.map(([daysAgo, seenMm, estimatedMm]) => ({
    atMs: Math.round(nowMs - daysAgo * DAY_MS),
    kind: 'core' as const,
    seenMm,
    estimatedLowMm: (estimatedMm ?? 4) / 2,
    ...(estimatedMm === undefined ? {} : { estimatedMm }),
    estimatedHighMm: (estimatedMm ?? 10) * 2,
  }));
  const last = seen?.at(-1);
  if (seen === undefined || last === undefined) return {};
  const { atMs, kind, seenMm } = last;
  return { calibration: { kind, depthMm: seenMm, atMs, transport: TRANSPORT, pumped: false }, looks: seen };
};
