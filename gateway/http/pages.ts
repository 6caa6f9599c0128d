import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';

const YEAR_S = 31_536_000;

/** Only our own files, no frames, no plug-ins, no forms to elsewhere. Inline scripts of the page are named by hash. */
const contentPolicy = (page: string | undefined): string => {
  const inline = [...(page ?? '').matchAll(/<script(?![^>]*\bsrc=)[^>]*>([\s\S]*?)<\/script>/g)].map(
    ([, script]) =>
      `'sha256-${createHash('sha256')
        .update(script ?? '')
        .digest('base64')}'`,
  );
  return [
    "default-src 'none'",
    `script-src ${["'self'", ...inline].join(' ')}`,
    "style-src 'self'",
    "img-src 'self' data:",
    "font-src 'self'",
    "connect-src 'self'",
    "manifest-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
};

const HEADERS = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), payment=(), usb=()',
} as const;

/** For every answer, the API's too. */
export const useHeaders = (app: FastifyInstance, { pages }: Pick<AppParts, 'pages'>): void => {
  const index = pages === undefined ? undefined : join(pages, 'index.html');
  const policy = contentPolicy(index !== undefined && existsSync(index) ? readFileSync(index, 'utf8') : undefined);
  app.addHook('onRequest', async (request, reply) => {
    reply.headers({ ...HEADERS, 'content-security-policy': policy });
    if (request.protocol === 'https') reply.header('strict-transport-security', `max-age=${YEAR_S}`);
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store');
  });
};

/** A file of the build whose name changes with its content may be kept for ever; all else is asked for anew. */
const cacheControl = (path: string): string =>
  /[\\/]assets[\\/]/.test(path) ? `public, max-age=${YEAR_S}, immutable` : 'no-cache';

/** Files lie in the root and in /assets; deeper addresses are pages, and the id of an alarm has dots. */
const wantsPage = (request: FastifyRequest): boolean =>
  (request.method === 'GET' || request.method === 'HEAD') &&
  !/^\/(?:assets\/.*|[^/]*\.\w+)$/.test(new URL(request.url, 'http://here').pathname);

/** The built pages, compressed where the build left them so and the browser takes it; an address inside them that is no file is the page itself, which finds its own way. */
export const usePages = async (app: FastifyInstance, { pages }: Pick<AppParts, 'pages'>): Promise<void> => {
  const hasPages = pages !== undefined && existsSync(join(pages, 'index.html'));
  if (hasPages) {
    await app.register(fastifyStatic, {
      root: pages,
      wildcard: false,
      cacheControl: false,
      preCompressed: true,
      setHeaders: (response, path) => {
        response.setHeader('cache-control', cacheControl(path));
        response.setHeader('vary', 'accept-encoding');
      },
    });
  }
  app.setNotFoundHandler((request, reply): FastifyReply => {
    const isApi = request.url.startsWith('/api/') || request.url.startsWith('/socket.io/');
    if (hasPages && !isApi && wantsPage(request)) return reply.sendFile('index.html');
    return refuse(reply, 'no-such-page', { method: request.method, path: request.url.split('?')[0] ?? '' });
  });
};
