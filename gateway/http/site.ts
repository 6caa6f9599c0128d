import type { FastifyPluginAsync } from 'fastify';
import type { Site } from '../../rules/hatchery.js';
import { isZone } from '../../rules/words/clock.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { SITE_PICTURE, VERSIONED_SITE } from './schema/answer.js';
import { SITE } from './schema/place.js';
import { siteFileRoutes } from './site-file.js';
import { refuseWrite, sendVersioned, versionIn } from './version.js';

/** The site itself, and the whole of its settings. */
export const siteRoutes =
  (parts: Pick<AppParts, 'desk' | 'journal' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const { desk } = parts;
    const tag = 'site';
    app.get(
      '/site',
      route({
        tag,
        needs: 'viewer',
        summary: 'The site and every place; the ETag is the version of the site',
        answer: SITE_PICTURE,
      }),
      async (_request, reply) => {
        const picture = desk.site();
        return reply.header('etag', `"${picture.site.version}"`).send(picture);
      },
    );
    app.put<{ Body: Site }>(
      '/site',
      route({
        tag,
        needs: 'manager',
        summary: 'Change name, zone, units or altitude',
        body: SITE,
        answer: VERSIONED_SITE,
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const { zone } = request.body;
        if (!isZone(zone)) {
          const detail = `“${zone}” is no time zone: write it by name, as in America/New_York or Europe/Lisbon.`;
          return refuse(reply, 'settings-conflict', { first: detail }, [{ pointer: '/zone', detail }]);
        }
        const done = desk.putSite(request.body, { by: callerOf(request).name, expectedVersion });
        return done.ok ? sendVersioned(reply, done.value) : refuseWrite(reply, done.fault);
      },
    );
    await app.register(siteFileRoutes(parts));
  };
