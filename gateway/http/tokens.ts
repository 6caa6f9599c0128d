import type { FastifyPluginAsync } from 'fastify';
import { ROLES, type Role } from '../../rules/wire/api.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { anyText, atMs, listOf, optional, shape, text, wordOf } from './schema/shape.js';

type NewToken = { readonly name: string; readonly role: Role };
const NEW_TOKEN = shape<NewToken>({ name: text(60), role: wordOf(ROLES) });

type MadeToken = NewToken & {
  /** Told this once. */
  readonly token: string;
  /** Opens the pages with this token: for a wall. The token stands behind #, which no server sees. */
  readonly link: string;
};
const MADE_TOKEN = shape<MadeToken>({ name: anyText, role: wordOf(ROLES), token: anyText, link: anyText });

type KnownToken = NewToken & { readonly createdMs: number; readonly lastUsedMs?: number; readonly revokedMs?: number };
const KNOWN_TOKEN = shape<KnownToken>({
  name: anyText,
  role: wordOf(ROLES),
  createdMs: atMs,
  lastUsedMs: optional(atMs),
  revokedMs: optional(atMs),
});

/** Keys for programs and walls. A wall link is a viewer token that can be revoked. */
export const tokenRoutes =
  ({ access, journal, publicUrl }: Pick<AppParts, 'access' | 'journal' | 'publicUrl'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'tokens';
    app.get(
      '/tokens',
      route({ tag, needs: 'manager', summary: 'Every token, without its secret', answer: listOf(KNOWN_TOKEN) }),
      async () => journal.tokens.list().map(({ hash: _, ...known }) => known),
    );
    app.post<{ Body: NewToken }>(
      '/tokens',
      route({
        tag,
        needs: 'manager',
        status: 201,
        summary: 'A new token, told this once',
        body: NEW_TOKEN,
        answer: MADE_TOKEN,
      }),
      async ({ body: { name, role }, protocol, host }, reply) => {
        const token = access.addToken(name, role);
        if (token === undefined) return refuse(reply, 'token-exists', { name });
        const link = `${publicUrl ?? `${protocol}://${host}`}/#wall=${token}`;
        return reply.code(201).send({ name, role, token, link } satisfies MadeToken);
      },
    );
    app.delete<{ Params: ById }>(
      '/tokens/:id',
      route({ tag, needs: 'manager', summary: 'Revoke a token by its name; what it opened closes', params: BY_ID }),
      async ({ params: { id } }, reply) =>
        access.revokeToken(id) ? reply.code(204).send() : refuse(reply, 'no-such-token', { id }),
    );
  };
