import type { FastifyPluginAsync } from 'fastify';
import type { PushSubscriptionBody } from '../../rules/wire/waking.js';
import { usableUrl } from '../alerts/way.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { refuseWaking } from './people.js';
import { NO_BODY, route } from './route.js';
import { anyText, count, shape, text } from './schema/shape.js';
import { PUSH_SUBSCRIPTION } from './schema/waking.js';
import type { WakingRouteParts } from './waking-parts.js';

type PushKey = { readonly publicKey: string };
type Endpoint = { readonly endpoint: string };

/** Phones that subscribe to be pushed to (W3C Push API). */
export const pushRoutes =
  ({ desk, pushKey }: Pick<WakingRouteParts, 'desk' | 'pushKey'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    app.get(
      '/push/key',
      route({
        tag,
        needs: 'viewer',
        summary: 'The key that a browser subscribes with (RFC 8292)',
        answer: shape<PushKey>({ publicKey: anyText }),
      }),
      async (): Promise<PushKey> => ({ publicKey: pushKey() }),
    );
    app.post(
      '/push/key',
      route({
        tag,
        needs: 'manager',
        summary: 'Make a new key: every phone has to subscribe again; how many',
        body: NO_BODY,
        answer: shape<{ readonly phones: number }>({ phones: count }),
      }),
      async () => ({ phones: desk.renewPush() }),
    );
    app.post<{ Body: PushSubscriptionBody }>(
      '/push/subscriptions',
      route({ tag, needs: 'crew', summary: 'This browser is to be pushed to, for a person', body: PUSH_SUBSCRIPTION }),
      async (request, reply) => {
        const { body } = request;
        const personId = body.personId ?? desk.personOf(callerOf(request).name)?.id;
        if (personId === undefined) return refuse(reply, 'not-a-person', { name: callerOf(request).name });
        if (usableUrl(body.endpoint) === undefined)
          return refuse(reply, 'request-not-understood', { first: '“endpoint” must be an https address.' });
        const done = desk.subscribe(personId, body);
        return done.ok ? reply.code(204).send() : refuseWaking(reply, done.fault);
      },
    );
    app.delete<{ Body: Endpoint }>(
      '/push/subscriptions',
      route({
        tag,
        needs: 'crew',
        summary: 'This browser is not to be pushed to any more',
        body: shape<Endpoint>({ endpoint: text(2_000) }),
      }),
      async ({ body: { endpoint } }, reply) => {
        desk.unsubscribe(endpoint);
        return reply.code(204).send();
      },
    );
  };
