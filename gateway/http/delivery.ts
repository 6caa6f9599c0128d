import type { FastifyPluginAsync } from 'fastify';
import type { DeliverySettings, TrialBody } from '../../rules/wire/waking.js';
import { callerOf } from './guard.js';
import { refuseWaking, sendWritten } from './people.js';
import { route } from './route.js';
import { DELIVERY, DELIVERY_PICTURE, TRIAL, TRIAL_OUTCOME } from './schema/delivery.js';
import { sendVersioned, versionIn } from './version.js';
import type { WakingRouteParts } from './waking-parts.js';
import { dated } from './watch.js';

/** How messages leave this site: mail server, modem, webhook key. Secrets go in and never come out. */
export const deliveryRoutes =
  ({ desk }: Pick<WakingRouteParts, 'desk'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    app.get(
      '/delivery',
      route({
        tag,
        needs: 'manager',
        summary: 'How messages leave this site, without secrets',
        answer: dated(DELIVERY_PICTURE),
      }),
      async (_request, reply) => sendVersioned(reply, desk.delivery()),
    );
    app.put<{ Body: DeliverySettings }>(
      '/delivery',
      route({
        tag,
        needs: 'manager',
        summary: 'Change it; a secret that is left out stays, for the same server and user',
        body: DELIVERY,
        answer: dated(DELIVERY_PICTURE),
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        return sendWritten(reply, desk.putDelivery(request.body, { by: callerOf(request).name, expectedVersion }));
      },
    );
    app.post<{ Body: TrialBody }>(
      '/delivery/tests',
      route({
        tag,
        needs: 'manager',
        summary: 'Send one test now, and wait for what becomes of it',
        body: TRIAL,
        answer: TRIAL_OUTCOME,
      }),
      async (request, reply) => {
        const done = await desk.trial(request.body, callerOf(request).name);
        return done.ok ? reply.send(done.value) : refuseWaking(reply, done.fault);
      },
    );
  };
