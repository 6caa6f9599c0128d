import type { FastifyPluginAsync } from 'fastify';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { PICTURE } from './schema/picture.js';

/** The room as it is now: what the feed sends first, for programs that only want to look. */
export const pictureRoutes =
  ({ watchkeeper }: Pick<AppParts, 'watchkeeper'>): FastifyPluginAsync =>
  async (app) => {
    app.get(
      '/picture',
      route({ tag: 'room', needs: 'viewer', summary: 'The whole room at this moment', answer: PICTURE }),
      async () => watchkeeper.picture(),
    );
  };
