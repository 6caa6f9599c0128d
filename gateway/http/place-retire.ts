import type { FastifyPluginAsync } from 'fastify';
import { retirePlace } from '../retire.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { refuseWrite, versionIn } from './version.js';

/** Taking a place out. Nothing that was read or written of it is lost; its id may come back. */
export const placeRetireRoutes =
  ({ journal, desk, log }: Pick<AppParts, 'journal' | 'desk' | 'log'>): FastifyPluginAsync =>
  async (app) => {
    app.delete<{ Params: ById }>(
      '/places/:id',
      route({
        tag: 'places',
        needs: 'manager',
        summary: 'Take a place out that nothing is in or hangs on; its history stays. If-Match holds the version seen',
        params: BY_ID,
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const writing = { by: callerOf(request).name, expectedVersion };
        const done = retirePlace({ journal, desk, record: log.record() }, request.params.id, writing);
        if (done.ok) return reply.code(204).send();
        const { fault } = done;
        if (fault.code === 'version-changed') return refuseWrite(reply, fault);
        return fault.code === 'place-in-use'
          ? refuse(reply, fault.code, { name: fault.name, first: fault.first })
          : refuse(reply, fault.code, { id: fault.id });
      },
    );
  };
