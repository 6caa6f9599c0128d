import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Role } from '../../rules/wire/api.js';
import { type Caller, DEMO_CALLER, isAllowed } from '../access/caller.js';
import { COOKIE } from '../access/cookie.js';
import { demoPeerFault, isOwnOrigin, type Peer } from '../access/peer.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';

/** What a route asks of its caller. */
export type Needs = Role | 'nothing';

declare module 'fastify' {
  interface FastifyContextConfig {
    needs?: Needs;
  }
  interface FastifyRequest {
    /** Undefined where a route needs nothing and nobody is signed in. */
    caller: Caller | undefined;
  }
}

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

export const peerOf = (request: FastifyRequest): Peer => ({
  address: request.socket.remoteAddress,
  host: request.headers.host,
  origin: request.headers.origin,
  protocol: request.protocol === 'https' ? 'https' : 'http',
});

const bearer = (request: FastifyRequest): string | undefined =>
  /^Bearer (\S+)$/i.exec(request.headers.authorization ?? '')?.[1];

export const secretOf = (request: FastifyRequest): string | undefined => bearer(request) ?? request.cookies[COOKIE];

/** A request that changes something must come from our own page, or carry a token that no page sends by itself. */
const isForeign = (request: FastifyRequest, publicUrl: string | undefined): boolean => {
  if (SAFE.has(request.method)) return false;
  if (!isOwnOrigin(peerOf(request), publicUrl)) return true;
  const site = request.headers['sec-fetch-site'];
  return request.headers.origin === undefined && site !== undefined && site !== 'same-origin' && site !== 'none';
};

/** In order: may this machine speak to us, does the request come from our page, who is it, may they. */
export const useGuard = (app: FastifyInstance, { access, publicUrl }: Pick<AppParts, 'access' | 'publicUrl'>): void => {
  app.decorateRequest('caller', undefined);
  app.addHook('onRoute', ({ url, config }) => {
    if (url.startsWith('/api/') && config?.needs === undefined) throw new Error(`${url} does not say what it needs`);
  });
  app.addHook('onRequest', async (request, reply): Promise<FastifyReply | undefined> => {
    const fault = access.demo ? demoPeerFault(peerOf(request)) : undefined;
    const origin = request.headers.origin ?? '';
    if (fault !== undefined) return refuse(reply, fault, { origin });
    if (isForeign(request, publicUrl)) return refuse(reply, 'origin-not-ours', { origin });
    const secret = secretOf(request);
    request.caller = access.demo ? DEMO_CALLER : secret === undefined ? undefined : access.callerOf(secret);
    const needs = request.routeOptions.config.needs ?? 'nothing';
    if (needs === 'nothing') return undefined;
    if (request.caller === undefined) return refuse(reply, 'not-signed-in');
    if (isAllowed(request.caller.role, needs)) return undefined;
    return refuse(reply, 'role-too-low', { needs, role: request.caller.role });
  });
};

/** The caller of a route that needs a role: the guard has seen to it. */
export const callerOf = ({ caller }: FastifyRequest): Caller => {
  if (caller === undefined) throw new Error('A route that needs a role was reached by nobody');
  return caller;
};
