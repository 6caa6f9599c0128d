import type { FastifyPluginAsync } from 'fastify';
import type { Clock } from '../clock.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { MOMENT, parseMoment } from './moment.js';
import { BY_ID, type ById, route } from './route.js';
import { atMs, type JsonSchema, optional, shape, slug, text, yesNo } from './schema/shape.js';
import type { WakingRouteParts } from './waking-parts.js';

type Asked = { readonly from?: string; readonly to?: string };
const ASKED: JsonSchema = shape<Asked>({ from: optional(MOMENT), to: optional(MOMENT) });
const REPORT: JsonSchema = { type: 'object', additionalProperties: true };

const HOUR_MS = 3_600_000;

/** The morning report, the season, and how the alarms themselves behave. */
export const reportRoutes =
  ({ reports, desk }: Pick<WakingRouteParts, 'reports' | 'desk'>, clock: Pick<Clock, 'now'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    const spanOf = ({ from, to }: Asked, hours: number): readonly [number, number] | undefined => {
      const toMs = to === undefined ? clock.now() : parseMoment(to);
      const fromMs = from === undefined ? (toMs ?? 0) - hours * HOUR_MS : parseMoment(from);
      return fromMs === undefined || toMs === undefined || fromMs >= toMs ? undefined : [fromMs, toMs];
    };
    app.get<{ Querystring: Asked }>(
      '/reports/morning',
      route({
        tag,
        needs: 'viewer',
        summary: 'The night on one page, worst first; without a span, the last 14 hours',
        querystring: ASKED,
        answer: REPORT,
      }),
      async ({ query }, reply) => {
        const span = spanOf(query, 14);
        return span === undefined ? refuse(reply, 'span-backwards') : reports.morning(...span);
      },
    );
    app.get<{ Querystring: Asked }>(
      '/reports/season',
      route({
        tag,
        needs: 'viewer',
        summary: 'How often somebody was woken, how often it was real, what was missed; without a span, 180 days',
        querystring: ASKED,
        answer: REPORT,
      }),
      async ({ query }, reply) => {
        const span = spanOf(query, 180 * 24);
        return span === undefined ? refuse(reply, 'span-backwards') : reports.season(...span);
      },
    );
    app.get<{ Querystring: Asked }>(
      '/reports/alarms',
      route({
        tag,
        needs: 'manager',
        summary: 'Figures of ISA-18.2 and EEMUA 191; without a span, 30 days',
        querystring: ASKED,
        answer: REPORT,
      }),
      async ({ query }, reply) => {
        const span = spanOf(query, 30 * 24);
        return span === undefined ? refuse(reply, 'span-backwards') : reports.performance(...span);
      },
    );
    type Judged = { readonly real: boolean };
    app.put<{ Params: ById; Body: Judged }>(
      '/faults/:id/real',
      route({
        tag,
        needs: 'crew',
        summary: 'Was it real? The morning’s question about a waking',
        params: BY_ID,
        body: shape<Judged>({ real: yesNo }),
      }),
      async (request, reply) => {
        const done = desk.judged(request.params.id, request.body.real, callerOf(request).name);
        return done.ok ? reply.code(204).send() : refuse(reply, done.fault.code);
      },
    );
    type Missed = { readonly placeId: string; readonly atMs?: number; readonly remark: string };
    app.post<{ Body: Missed }>(
      '/reports/missed',
      route({
        tag,
        needs: 'crew',
        summary: 'Harm that nobody was woken for',
        body: shape<Missed>({ placeId: slug, atMs: optional(atMs), remark: text(500) }),
      }),
      async (request, reply) => {
        const { placeId, atMs: when = clock.now(), remark } = request.body;
        desk.missed(placeId, when, remark, callerOf(request).name);
        return reply.code(204).send();
      },
    );
  };
