import type { FastifyPluginAsync } from 'fastify';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { TRAILS } from './schema/answer.js';
import { shape } from './schema/shape.js';

type Asked = { readonly hours: number; readonly points: number };
const ASKED = shape<Asked>({
  hours: { type: 'number', exclusiveMinimum: 0, maximum: 168, default: 6, description: 'how far back' },
  points: { type: 'integer', minimum: 2, maximum: 500, default: 120, description: 'steps of each trail' },
});

/** Steps are whole seconds, so that two walls asking a moment apart get the same steps. */
const stepMsFor = ({ hours, points }: Asked): number => Math.max(1, Math.ceil((hours * 3_600) / points)) * 1_000;

/** Every channel's last hours, short, for the wall. */
export const trailRoutes =
  ({ watchkeeper, history, clock }: Pick<AppParts, 'watchkeeper' | 'history' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    app.get<{ Querystring: Asked }>(
      '/trails',
      route({
        tag: 'room',
        needs: 'viewer',
        summary: 'The last hours of every channel',
        querystring: withDefaults(ASKED),
        answer: TRAILS,
      }),
      async ({ query }) => {
        const stepMs = stepMsFor(query);
        const toMs = Math.ceil(clock.now() / stepMs) * stepMs;
        const fromMs = Math.max(0, toMs - query.points * stepMs);
        const ids = watchkeeper.state().plan.channels.map(({ id }) => id);
        return history.trails(ids, fromMs, toMs, stepMs);
      },
    );
  };

const withDefaults = (schema: ReturnType<typeof shape>): ReturnType<typeof shape> => ({ ...schema, required: [] });
