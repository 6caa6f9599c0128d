import type { FastifyPluginAsync } from 'fastify';
import { ROLES, type Role } from '../../rules/wire/api.js';
import { hashPassphrase, isWeak, SHORTEST_PASSPHRASE } from '../access/passphrase.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { anyText, atMs, listOf, shape, text, wordOf } from './schema/shape.js';

type NewAccount = { readonly name: string; readonly role: Role; readonly passphrase: string };
const NEW_ACCOUNT = shape<NewAccount>({ name: text(60), role: wordOf(ROLES), passphrase: text(200) });
type KnownAccount = Pick<NewAccount, 'name' | 'role'> & { readonly createdMs: number };
const KNOWN_ACCOUNT = shape<KnownAccount>({ name: anyText, role: wordOf(ROLES), createdMs: atMs });

/** People who may sign in with a passphrase. */
export const accountRoutes =
  ({ access, journal, clock }: Pick<AppParts, 'access' | 'journal' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'people';
    app.get(
      '/accounts',
      route({ tag, needs: 'manager', summary: 'Everybody who may sign in', answer: listOf(KNOWN_ACCOUNT) }),
      async () => journal.accounts.list().map(({ hash: _, ...known }) => known),
    );
    app.post<{ Body: NewAccount }>(
      '/accounts',
      route({
        tag,
        needs: 'manager',
        status: 201,
        summary: 'Let somebody sign in',
        body: NEW_ACCOUNT,
        answer: KNOWN_ACCOUNT,
      }),
      async ({ body: { name, role, passphrase } }, reply) => {
        if (isWeak(passphrase))
          return refuse(reply, 'passphrase-weak', { least: SHORTEST_PASSPHRASE }, [
            { pointer: '/passphrase', detail: `Passphrase: at least ${SHORTEST_PASSPHRASE} characters are needed.` },
          ]);
        const hash = await hashPassphrase(passphrase);
        if (journal.accounts.byName(name) !== undefined) return refuse(reply, 'account-exists', { name });
        const createdMs = clock.now();
        journal.accounts.put({ name, hash, role, createdMs });
        return reply.code(201).send({ name, role, createdMs } satisfies KnownAccount);
      },
    );
    app.delete<{ Params: ById }>(
      '/accounts/:id',
      route({ tag, needs: 'manager', summary: 'Somebody may no longer sign in', params: BY_ID }),
      async ({ params: { id } }, reply) => {
        const account = journal.accounts.byName(id);
        if (account === undefined) return refuse(reply, 'no-such-account', { id });
        const managers = journal.accounts.list().filter(({ role }) => role === 'manager');
        if (account.role === 'manager' && managers.length === 1) return refuse(reply, 'last-manager');
        access.removeAccount(id);
        return reply.code(204).send();
      },
    );
  };
