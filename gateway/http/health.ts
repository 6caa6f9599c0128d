import type { FastifyPluginAsync } from 'fastify';
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
};
const HEALTH = shape<HealthPicture>({
  state: wordOf(['well', 'attention']),
  nowMs: atMs,
  version: anyText,
  broker: wordOf(['up', 'down']),
  lastReadingMs: optional(atMs),
  sequence: count,
});

/** Whether the gateway lives and hears. Answers 200 also with `attention`: a watcher reads the word. */
export const healthRoutes =
  ({
    watchkeeper,
    journal,
    clock,
    version,
  }: Pick<AppParts, 'watchkeeper' | 'journal' | 'clock' | 'version'>): FastifyPluginAsync =>
  async (app) => {
    app.get(
      '/health',
      route({ tag: 'health', needs: 'nothing', summary: 'Whether the gateway lives and hears', answer: HEALTH }),
      async (): Promise<HealthPicture> => {
        const { link, lastReadingMs } = watchkeeper.state();
        return {
          state: link.broker === 'up' ? 'well' : 'attention',
          nowMs: clock.now(),
          version,
          broker: link.broker,
          ...(lastReadingMs === undefined ? {} : { lastReadingMs }),
          sequence: journal.sequence(),
        };
      },
    );
  };
