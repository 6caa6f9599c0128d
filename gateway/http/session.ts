import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { Result } from '../../rules/result.js';
import { ROLES, type SessionPicture } from '../../rules/wire/api.js';
import { SESSION_MS, type SignedIn, type SignInFault } from '../access/access.js';
import { COOKIE } from '../access/cookie.js';
import { SHORTEST_PASSPHRASE } from '../access/passphrase.js';
import { refuse } from './faults.js';
import { secretOf } from './guard.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { optional, shape, text, wordOf, yesNo } from './schema/shape.js';

const SESSION = shape<SessionPicture>({
  demo: yesNo,
  first: yesNo,
  name: optional(text(60)),
  role: optional(wordOf(ROLES)),
});

type ByPassphrase = { readonly name: string; readonly passphrase: string };
type ByToken = { readonly token: string };
type SignIn = ByPassphrase | ByToken;
type First = ByPassphrase & { readonly code: string };

const passphrase = { name: text(60), passphrase: text(200) };
const SIGN_IN = {
  type: 'object',
  oneOf: [shape<ByPassphrase>(passphrase), shape<ByToken>({ token: text(100) })],
};
const FIRST = shape<First>({ code: text(20), ...passphrase });

const cookieOptions = (request: FastifyRequest) =>
  ({ path: '/', httpOnly: true, sameSite: 'strict', secure: request.protocol === 'https' }) as const;

export const refuseSignIn = (reply: FastifyReply, what: SignInFault): FastifyReply => {
  if (what.code === 'too-many-tries') {
    const seconds = Math.ceil(what.waitMs / 1000);
    return refuse(reply.header('retry-after', seconds), what.code, { seconds });
  }
  return refuse(reply, what.code, { least: SHORTEST_PASSPHRASE });
};

/** Signing in and out. The cookie is out of reach of scripts and is not sent to us from other pages. */
export const sessionRoutes =
  ({ access }: Pick<AppParts, 'access'>): FastifyPluginAsync =>
  async (app) => {
    const pictureOf = (caller: FastifyRequest['caller']): SessionPicture => ({
      demo: access.demo,
      first: !access.demo && access.isEmpty(),
      ...(caller === undefined ? {} : { name: caller.name, role: caller.role }),
    });
    const welcome = (request: FastifyRequest, reply: FastifyReply, done: Result<SignedIn, SignInFault>) => {
      if (!done.ok) return refuseSignIn(reply, done.fault);
      const { caller, secret } = done.value;
      reply.setCookie(COOKIE, secret, { ...cookieOptions(request), maxAge: SESSION_MS / 1000 });
      return reply.send(pictureOf(caller));
    };
    const words = { tag: 'session', needs: 'nothing', answer: SESSION } as const;

    app.get('/session', route({ ...words, summary: 'Who is signed in here' }), async (request) =>
      pictureOf(request.caller),
    );
    app.post<{ Body: SignIn }>(
      '/session',
      route({ ...words, summary: 'Sign in with a passphrase, or open a wall link', body: SIGN_IN }),
      async (request, reply) => {
        const { body, ip } = request;
        const done =
          'token' in body ? access.signInByToken(body.token, ip) : await access.signIn(body.name, body.passphrase, ip);
        return welcome(request, reply, done);
      },
    );
    app.post<{ Body: First }>(
      '/session/first',
      route({ ...words, summary: 'Become the first manager with the code on the console', body: FIRST }),
      async (request, reply) => {
        const { code, name, passphrase: chosen } = request.body;
        return welcome(request, reply, await access.signInFirst(code, name, chosen, request.ip));
      },
    );
    app.delete('/session', route({ tag: 'session', needs: 'nothing', summary: 'Sign out' }), async (request, reply) => {
      const secret = secretOf(request);
      // A wall's token outlives its browser: only a session ends by signing out.
      if (secret !== undefined && request.caller?.by === 'session') access.signOut(secret);
      return reply.clearCookie(COOKIE, cookieOptions(request)).code(204).send();
    });
  };
