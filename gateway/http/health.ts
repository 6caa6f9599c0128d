import type { FastifyPluginAsync } from 'fastify';
import type { SpoolStanding } from '../history/spool.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { anyText, atMs, count, optional, shape, wordOf } from './schema/shape.js';

/** GET /api/v1/health: for everybody, so it names nobody and no tank. */
export type HealthPicture = {
  /** `attention`: the program lives, and something it needs does not. */
  readonly state: 'well' | 'attention';
  readonly nowMs: number;
  readonly version: string;
  readonly broker: 'up' | 'down';
  readonly lastReadingMs?: number;
  readonly sequence: number;
  /** Where a history database elsewhere is set: what it has not confirmed, and since when it confirms nothing, and why. */
  readonly history?: {
    readonly behind: number;
    readonly daysBehind: number;
    readonly refused: number;
    readonly sinceMs?: number;
    readonly trouble?: string;
  };
};
const HEALTH = shape<HealthPicture>({
  state: wordOf(['well', 'attention']),
  nowMs: atMs,
  version: anyText,
  broker: wordOf(['up', 'down']),
  lastReadingMs: optional(atMs),
  sequence: count,
  history: optional(
    shape<NonNullable<HealthPicture['history']>>({
      behind: count,
      daysBehind: count,
      refused: count,
      sinceMs: optional(atMs),
      trouble: optional(anyText),
    }),
  ),
});

/** The watch does not need it, and what waits is safe on this disk: only a long absence is worth a look. */
const LONG_AWAY_MS = 3_600_000;

const historyOf = ({
  readings,
  days,
  refused,
  sinceMs,
  trouble,
}: SpoolStanding): NonNullable<HealthPicture['history']> => ({
  ...{ behind: readings, daysBehind: days, refused },
  ...(sinceMs === undefined ? {} : { sinceMs }),
  ...(trouble === undefined ? {} : { trouble: trouble.code }),
});

/** Whether the gateway lives and hears. Answers 200 also with `attention`: a watcher reads the word. */
export const healthRoutes =
  ({
    watchkeeper,
    journal,
    clock,
    version,
    spool,
  }: Pick<AppParts, 'watchkeeper' | 'journal' | 'clock' | 'version' | 'spool'>): FastifyPluginAsync =>
  async (app) => {
    app.get(
      '/health',
      route({ tag: 'health', needs: 'nothing', summary: 'Whether the gateway lives and hears', answer: HEALTH }),
      async (): Promise<HealthPicture> => {
        const { link, lastReadingMs } = watchkeeper.state();
        const standing = spool?.standing();
        const isLongAway = clock.now() - (standing?.sinceMs ?? clock.now()) > LONG_AWAY_MS;
        return {
          state: link.broker === 'up' && !isLongAway ? 'well' : 'attention',
          nowMs: clock.now(),
          version,
          broker: link.broker,
          ...(lastReadingMs === undefined ? {} : { lastReadingMs }),
          sequence: journal.sequence(),
          ...(standing === undefined ? {} : { history: historyOf(standing) }),
        };
      },
    );
  };
