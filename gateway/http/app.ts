import { createServer as createHttpServer, type Server } from 'node:http';
import { createServer as createHttpsServer } from 'node:https';
import cookie from '@fastify/cookie';
import fastify, { type FastifyInstance, type FastifyPluginAsync } from 'fastify';
import { accountRoutes } from './accounts.js';
import { alarmRoutes } from './alarms.js';
import { batchRoutes } from './batches.js';
import { bedRoutes } from './beds.js';
import { boardSettingsRoutes } from './board-settings.js';
import { boardRoutes } from './boards.js';
import { buttonRoutes } from './buttons.js';
import { channelRoutes } from './channels.js';
import { useBodies, useErrors } from './errors.js';
import { forecastRoutes } from './forecasts.js';
import { useGuard } from './guard.js';
import { healthRoutes } from './health.js';
import { logRoutes } from './log.js';
import { malformedRoutes } from './malformed.js';
import { openApiRoutes, useOpenApi } from './openapi.js';
import { useHeaders, usePages } from './pages.js';
import type { AppParts } from './parts.js';
import { photoRoutes } from './photos.js';
import { pictureRoutes } from './picture.js';
import { placeRetireRoutes } from './place-retire.js';
import { placeRoutes } from './places.js';
import { retiredPlaceRoutes } from './retired-places.js';
import { reviewRoutes } from './reviews.js';
import { runRoutes } from './runs.js';
import { sessionRoutes } from './session.js';
import { siteRoutes } from './site.js';
import { soundingsRoutes } from './soundings.js';
import { sourceRoutes } from './sources.js';
import { tokenRoutes } from './tokens.js';
import { trailRoutes } from './trails.js';
import { useValidation } from './validate.js';
import { wakingRoutes } from './waking.js';
import { workRoutes } from './work.js';

const LARGEST_BODY_BYTES = 256 * 1024;
/** Ids of alarms and channels are long. */
const LONGEST_PARAMETER = 300;

/** One plugin a noun. */
const nouns = (parts: AppParts): readonly FastifyPluginAsync[] => [
  healthRoutes(parts),
  sessionRoutes(parts),
  pictureRoutes(parts),
  trailRoutes(parts),
  channelRoutes(parts),
  alarmRoutes(parts),
  forecastRoutes(parts),
  sourceRoutes(parts),
  placeRoutes(parts),
  soundingsRoutes(parts),
  bedRoutes(parts),
  placeRetireRoutes(parts),
  retiredPlaceRoutes(parts),
  siteRoutes(parts),
  boardRoutes(parts),
  boardSettingsRoutes(parts),
  malformedRoutes(parts),
  tokenRoutes(parts),
  accountRoutes(parts),
  logRoutes(parts),
  workRoutes(parts),
  batchRoutes(parts),
  runRoutes(parts),
  reviewRoutes(parts),
  photoRoutes(parts),
  buttonRoutes(parts),
  ...(parts.waking === undefined ? [] : wakingRoutes(parts.waking, parts)),
  openApiRoutes,
];

/** The pages and the API, without a port: `inject` drives it, `listen` opens it. A proxy on this machine is believed. */
export const buildApp = async (parts: AppParts): Promise<FastifyInstance> => {
  const { tls } = parts;
  const app = fastify({
    bodyLimit: LARGEST_BODY_BYTES,
    routerOptions: { maxParamLength: LONGEST_PARAMETER },
    trustProxy: 'loopback',
    // With https the server is one all the same: Fastify's types have no union of the two.
    serverFactory: (handler) =>
      tls === undefined ? createHttpServer(handler) : (createHttpsServer(tls, handler) as unknown as Server),
  });
  useValidation(app);
  useErrors(app, parts);
  useBodies(app);
  useHeaders(app, parts);
  await app.register(cookie);
  await useOpenApi(app, parts);
  useGuard(app, parts);
  await app.register(
    async (api) => {
      for (const noun of nouns(parts)) await api.register(noun);
    },
    { prefix: '/api/v1' },
  );
  await usePages(app, parts);
  return app;
};
