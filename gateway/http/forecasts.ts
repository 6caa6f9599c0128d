import type { FastifyPluginAsync } from 'fastify';
import { forecastRecord } from '../../rules/conditions/forecast.js';
import type { ForecastsPicture } from '../../rules/wire/forecasts.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { type JsonSchema, optional, shape } from './schema/shape.js';

type Asked = { readonly last?: number };
const ASKED: JsonSchema = shape<Asked>({ last: optional({ type: 'integer', minimum: 1, maximum: 1_000 }) });
const ANSWER: JsonSchema = { type: 'object', additionalProperties: true };
const USUAL = 20;

/** How good the times were that people were told. */
export const forecastRoutes =
  ({ journal }: Pick<AppParts, 'journal'>): FastifyPluginAsync =>
  async (app) => {
    app.get<{ Querystring: Asked }>(
      '/forecasts',
      route({
        tag: 'alarms',
        needs: 'viewer',
        summary: 'The last forecasts whose time has passed, the newest first, and how far off they were',
        querystring: ASKED,
        answer: ANSWER,
      }),
      async ({ query: { last = USUAL } }): Promise<ForecastsPicture> => {
        const scores = journal.forecastScores.newest(last);
        return { scores, record: forecastRecord(scores) };
      },
    );
  };
