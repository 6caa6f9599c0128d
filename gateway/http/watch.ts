import type { FastifyPluginAsync } from 'fastify';
import type { Policies } from '../../rules/alerts/policy.js';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import { callerOf } from './guard.js';
import { sendWritten } from './people.js';
import { route } from './route.js';
import { type JsonSchema, listOf } from './schema/shape.js';
import { POLICIES, TO_CALL, WATCH_NOW, WATCH_PLAN } from './schema/waking.js';
import { sendVersioned, versionIn } from './version.js';
import type { WakingRouteParts } from './waking-parts.js';

/** A dated row as it is given: its version is the ETag. */
export const dated = (body: JsonSchema): JsonSchema => ({
  type: 'object',
  required: ['version', 'effectiveMs', 'recordedMs', 'body'],
  properties: { version: { type: 'integer' }, effectiveMs: { type: 'integer' }, recordedMs: { type: 'integer' }, body },
});

/** The weekly watch with swaps and holidays, the ladders, and who has the watch now. */
export const watchRoutes =
  ({ desk }: Pick<WakingRouteParts, 'desk'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    app.get(
      '/watch',
      route({ tag, needs: 'viewer', summary: 'The weekly watch', answer: dated(WATCH_PLAN) }),
      async (_request, reply) => sendVersioned(reply, desk.watch()),
    );
    app.put<{ Body: WatchPlan }>(
      '/watch',
      route({
        tag,
        needs: 'crew',
        summary: 'Change the watch: shifts, swaps, holidays',
        body: WATCH_PLAN,
        answer: dated(WATCH_PLAN),
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        return sendWritten(reply, desk.putWatch(request.body, { by: callerOf(request).name, expectedVersion }));
      },
    );
    app.get(
      '/watch/now',
      route({
        tag,
        needs: 'viewer',
        summary: 'Who is on call, when nobody is, and who cannot be reached',
        answer: WATCH_NOW,
      }),
      async () => desk.watchNow(),
    );
    app.get(
      '/watch/numbers',
      route({ tag, needs: 'crew', summary: 'Whom to telephone, in the order of calling', answer: listOf(TO_CALL) }),
      async () => desk.numbers(),
    );
    app.get(
      '/ladders',
      route({ tag, needs: 'viewer', summary: 'Who is called when, by priority and hour', answer: dated(POLICIES) }),
      async (_request, reply) => sendVersioned(reply, desk.policies()),
    );
    app.put<{ Body: Policies }>(
      '/ladders',
      route({ tag, needs: 'manager', summary: 'Change who is called when', body: POLICIES, answer: dated(POLICIES) }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        return sendWritten(reply, desk.putPolicies(request.body, { by: callerOf(request).name, expectedVersion }));
      },
    );
  };
