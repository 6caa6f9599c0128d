import type { FastifyPluginAsync } from 'fastify';
import type { Site } from '../../rules/hatchery.js';
import { siteFaults } from '../settings-check.js';
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
        summary: 'Change name, zone, units, altitude, or how long readings and hours are kept',
        body: SITE,
        answer: VERSIONED_SITE,
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const faults = siteFaults(request.body);
        if (faults.length > 0) return refuse(reply, 'settings-conflict', { first: faults[0]?.detail ?? '' }, faults);
        const done = desk.putSite(request.body, { by: callerOf(request).name, expectedVersion });
        return done.ok ? sendVersioned(reply, done.value) : refuseWrite(reply, done.fault);
      },
    );
    await app.register(siteFileRoutes(parts));
  };
