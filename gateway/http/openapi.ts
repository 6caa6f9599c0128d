import swagger from '@fastify/swagger';
import type { FastifyInstance, FastifyPluginAsync } from 'fastify';
import { COOKIE } from '../access/cookie.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';

/** Collects every route that is registered after it. */
export const useOpenApi = async (app: FastifyInstance, { version }: Pick<AppParts, 'version'>): Promise<void> => {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Nightwater',
        version,
        description:
          'The watch over a bivalve hatchery’s water. Times are UTC milliseconds, values are in the canonical unit of their quantity, errors are RFC 9457.',
        license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
      },
      components: {
        securitySchemes: {
          session: { type: 'apiKey', in: 'cookie', name: COOKIE },
          token: { type: 'http', scheme: 'bearer' },
        },
      },
    },
    hideUntagged: true,
    refResolver: { buildLocalReference: (schema, _base, _fragment, index) => String(schema.$id ?? `schema-${index}`) },
  });
};

/** The list of all there is, made from the same schemas that check each request. */
export const openApiRoutes: FastifyPluginAsync = async (app) => {
  app.get(
    '/openapi.json',
    route({
      tag: 'health',
      needs: 'nothing',
      summary: 'This list',
      answer: { type: 'object', additionalProperties: true, description: 'OpenAPI 3.1' },
    }),
    async () => app.swagger(),
  );
};
