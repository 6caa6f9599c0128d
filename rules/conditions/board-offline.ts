import { staleAfterMs } from '../quality/late.js';
import type { Condition } from './condition.js';
import { PRIORITIES, type Priority } from './finding.js';
import { unseenPriority } from './silent.js';
import type { SeenChannel } from './view.js';

const UNKNOWN_PERIOD_MS = 10_000;

/** Not heard for ten periods, at least a minute. */
export const isSilent = ({ now }: SeenChannel, nowMs: number): boolean =>
  nowMs - now.heardMs >= staleAfterMs(now.periodMs ?? UNKNOWN_PERIOD_MS);

const worst = (priorities: readonly Priority[]): Priority =>
  priorities.reduce<Priority>((a, b) => (PRIORITIES.indexOf(b) > PRIORITIES.indexOf(a) ? b : a), 'low');

/** A board speaks before its probes do, when the time that a tank stands unseen is up. */
const SPEAKS_FIRST_MS = 60_000;

/** How bad it is that these are not seen: the tank that stands it least decides. */
export const unseenWorst = (channels: readonly SeenChannel[], nowMs: number): Priority =>
  worst(
    channels.map(({ place, now, quantity }) =>
      unseenPriority({ place, quantity, nowMs: nowMs + SPEAKS_FIRST_MS }, now.heardMs),
    ),
  );

export const placesOf = (channels: readonly SeenChannel[]): readonly string[] => [
  ...new Set(channels.map(({ place }) => place.id)),
];

/**
 * A board is away: its last will says so, or everything on it is silent at once. One call for the board, not for each of
 * its probes; for the morning, until one of its tanks has been unseen too long.
 */
export const BOARD_OFFLINE: Condition = {
  code: 'board-offline',
  scope: 'board',
  everyMs: 30_000,
  standsAt: () => true,
  timing: () => ({ onDelayMs: 60_000, offDelayMs: 0 }),
  judge: ({ subject, view, nowMs }) => {
    const channels = view.channelsOf(subject);
    const silent = channels.filter((channel) => isSilent(channel, nowMs));
    const said = view.boards[subject]?.state === 'offline';
    // A board that says it is away and still sends is not away.
    const raw = silent.length === channels.length ? channels.length > 1 || said : said && silent.length > 0;
    if (!raw) return { raw: false };
    return {
      raw,
      finding: {
        priority: unseenWorst(channels, nowMs),
        boardId: subject,
        places: placesOf(channels),
        evidence: said ? ['board-offline'] : ['same-board-silent'],
        checks: ['board-power', 'board-network', 'hand-reading'],
      },
    };
  },
};
