import type { FastifyPluginAsync } from 'fastify';
import { callerOf } from './guard.js';
import { route } from './route.js';
import { anyText, count, listOf, optional, shape, slug } from './schema/shape.js';
import type { WakingRouteParts } from './waking-parts.js';

type DrillBody = { readonly people?: readonly string[] };
type Drilled = { readonly drillId: string; readonly messages: number };

/** A test call, end to end, by every way of every person named; without names, of everybody. */
export const drillRoutes =
  ({ desk }: Pick<WakingRouteParts, 'desk'>): FastifyPluginAsync =>
  async (app) => {
    app.post<{ Body: DrillBody }>(
      '/drills',
      route({
        tag: 'waking',
        needs: 'crew',
        status: 202,
        summary: 'Call people now as a night call would, to hear whether it wakes them',
        body: shape<DrillBody>({ people: optional({ ...listOf(slug), minItems: 1, maxItems: 100 }) }),
        answer: shape<Drilled>({ drillId: anyText, messages: count }),
      }),
      async (request, reply) =>
        reply.code(202).send(desk.drill(callerOf(request).name, request.body.people) satisfies Drilled),
    );
  };
