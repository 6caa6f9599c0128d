import type { FastifyPluginAsync } from 'fastify';
import { openWork } from '../../rules/log/declared.js';
import { lastDone } from '../../rules/log/done.js';
import { papersFor } from '../../rules/log/inspector.js';
import { lastSeen, onSite, overdueWork } from '../../rules/log/round.js';
import type { PapersPicture, RoundPicture, WorkList } from '../../rules/wire/log.js';
import { refuse } from './faults.js';
import { MOMENT, parseMoment } from './moment.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { ANSWER } from './schema/log.js';
import { listOf, optional, shape } from './schema/shape.js';

type Asked = { readonly from?: string; readonly to?: string };
const ASKED = shape<Asked>({
  from: optional({ ...MOMENT, description: `${MOMENT.description}; without it, a year before the end` }),
  to: optional({ ...MOMENT, description: `${MOMENT.description}; not included; without it, now` }),
});
const YEAR_MS = 366 * 86_400_000;

/** Work that is declared or due, and the papers that come of it. It is declared by an entry of the kind `work`. */
export const workRoutes =
  ({ log, desk, clock }: Pick<AppParts, 'log' | 'desk' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'work';
    app.get(
      '/work',
      route({ tag, needs: 'viewer', summary: 'Work that is declared and not ended', answer: listOf(ANSWER) }),
      async (): Promise<WorkList> => openWork(log.record().work),
    );
    app.get(
      '/round',
      route({
        tag,
        needs: 'viewer',
        summary: 'What is overdue, when each place was last seen, who is on site',
        answer: ANSWER,
      }),
      async (): Promise<RoundPicture> => {
        const { entries } = log.record().ruling;
        const places = desk.site().places.map(({ body }) => body);
        return {
          overdue: overdueWork(places, lastDone(entries), clock.now()),
          lastSeen: Object.fromEntries(lastSeen(places, entries)),
          onSite: onSite(entries, clock.now()),
        };
      },
    );
    app.get<{ Querystring: Asked }>(
      '/papers',
      route({
        tag,
        needs: 'viewer',
        summary: 'For an inspector: origin, permits, movements, deaths, treatments, calibrations of a span',
        querystring: ASKED,
        answer: ANSWER,
      }),
      async ({ query }, reply) => {
        const toMs = query.to === undefined ? clock.now() + 1 : parseMoment(query.to);
        const fromMs = query.from === undefined ? (toMs ?? 0) - YEAR_MS : parseMoment(query.from);
        if (fromMs === undefined || toMs === undefined || fromMs >= toMs) return refuse(reply, 'span-backwards');
        const { ruling, stock } = log.record();
        return papersFor(ruling.entries, stock, { fromMs, toMs }) satisfies PapersPicture;
      },
    );
  };
