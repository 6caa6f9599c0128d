import type { FastifyPluginAsync } from 'fastify';
import { type BedReport, bedReport } from '../../rules/bed/report.js';
import { waterOverBed } from '../../rules/engine/water-over.js';
import { rulingPlaces } from '../settings.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import type { JsonSchema } from './schema/shape.js';

const ANSWER: JsonSchema = { type: 'object', additionalProperties: true };

/** What lies under the water: the estimate of the oxygenated layer, once somebody has looked at it, and its past error. */
export const bedRoutes =
  ({ journal, watchkeeper, clock }: Pick<AppParts, 'journal' | 'watchkeeper' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    app.get<{ Params: ById }>(
      '/places/:id/bed',
      route({
        tag: 'places',
        needs: 'viewer',
        summary: 'The bed of a tank: its oxygenated depth where it was calibrated by a look, and how far off it was',
        params: BY_ID,
        answer: ANSWER,
      }),
      async ({ params: { id } }, reply): Promise<BedReport | typeof reply> => {
        const place = rulingPlaces(journal, clock.now()).find(({ body }) => body.id === id)?.body;
        if (place === undefined) return refuse(reply, 'no-such-place', { id });
        const report = bedReport(place, waterOverBed(watchkeeper.state(), id));
        return report ?? refuse(reply, 'no-bed', { id });
      },
    );
  };
