import type { FastifyPluginAsync } from 'fastify';
import { exportRoutes } from './export.js';
import { refuse } from './faults.js';
import { knowsChannel } from './known-channel.js';
import { MOMENT, parseSpan } from './moment.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { READINGS } from './schema/answer.js';
import { optional, shape } from './schema/shape.js';

type Asked = { readonly from: string; readonly to: string; readonly points?: number };
const ASKED = shape<Asked>({
  from: MOMENT,
  to: { ...MOMENT, description: `${MOMENT.description}; not included` },
  points: optional({
    type: 'integer',
    minimum: 1,
    maximum: 10_000,
    default: 1_000,
    description: 'at most so many buckets',
  }),
});

/** What a channel read: for a chart in buckets, for a spreadsheet whole. */
export const channelRoutes =
  (parts: Pick<AppParts, 'watchkeeper' | 'journal' | 'history' | 'desk'>): FastifyPluginAsync =>
  async (app) => {
    app.get<{ Params: ById; Querystring: Asked }>(
      '/channels/:id/readings',
      route({
        tag: 'channels',
        needs: 'viewer',
        summary: 'Readings of a channel, in buckets when there are many; gaps with their reason',
        params: BY_ID,
        querystring: ASKED,
        answer: READINGS,
      }),
      async ({ params: { id }, query }, reply) => {
        if (!knowsChannel(parts, id)) return refuse(reply, 'no-such-channel', { id });
        const span = parseSpan(query.from, query.to);
        if (!span.ok)
          return refuse(reply, span.fault, { first: `“from” and “to” must each be ${MOMENT.description}.` });
        return parts.history.readings(id, span.value.fromMs, span.value.toMs, query.points ?? 1_000);
      },
    );
    await app.register(exportRoutes(parts));
  };
