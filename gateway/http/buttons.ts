import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { parseChannelId } from '../../rules/channel.js';
import { ENTRY_KINDS, parseEntry } from '../../rules/log/entry.js';
import type { SitePicture, Versioned } from '../../rules/wire/api.js';
import type { Button } from '../../rules/wire/log.js';
import { entryFaultSentence } from '../../rules/words/entry-fault.js';
import { BUTTON as ENTITY } from '../buttons.js';
import type { Setting } from '../journal/settings.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { ANSWER, BUTTON } from './schema/log.js';
import { listOf } from './schema/shape.js';
import { refuseWrite, sendVersioned, versionIn } from './version.js';

const versioned = ({ version, effectiveMs, recordedMs, body }: Setting): Versioned<Button> => ({
  version,
  effectiveMs,
  recordedMs,
  body: body as Button,
});

type Fault = { readonly pointer: string; readonly detail: string };

/** What a press would write has to be an entry: better told now than at three in the morning. */
const faultsIn = ({ channelId, does }: Button, { site, places: known }: SitePicture): readonly Fault[] => {
  const places = new Set(known.map(({ body }) => body.id));
  const address = parseChannelId(channelId);
  const faults: Fault[] = [];
  if (address?.quantity !== 'contact')
    faults.push({ pointer: '/channelId', detail: `“${channelId}” is no contact: choose one like l2.contact.` });
  if (does.placeId !== undefined && !places.has(does.placeId))
    faults.push({ pointer: '/does/placeId', detail: `There is no place “${does.placeId}”.` });
  if (does.kind === 'work') return faults;
  const { placeId, entry: kind, fields } = does;
  const read = ENTRY_KINDS[kind].read(fields, '/does/fields');
  const trial = {
    id: '01KQSZ5M80000000000000000A',
    atMs: 946_684_800_000,
    kind,
    fields,
    ...(placeId === undefined ? {} : { placeId }),
  };
  const whole = read.ok ? parseEntry(trial, 'a button') : read;
  if (whole.ok) return faults;
  return [
    ...faults,
    ...whole.fault.map((each) => ({
      pointer: each.pointer.startsWith('/does') ? each.pointer : `/does${each.pointer}`,
      detail: entryFaultSentence(each, site.body),
    })),
  ];
};

/** Contacts of boards that write an entry or declare work. */
export const buttonRoutes =
  ({ journal, desk, clock }: Pick<AppParts, 'journal' | 'desk' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'buttons';
    const ruling = (id: string): Setting | undefined => journal.settings.ruling(ENTITY, id, clock.now());
    app.get(
      '/buttons',
      route({
        tag,
        needs: 'viewer',
        summary: 'Contacts that write into the log when they are pressed',
        answer: listOf(ANSWER),
      }),
      async () => journal.settings.allRuling(ENTITY, clock.now()).map(versioned),
    );
    const put = (
      request: { readonly params: ById; readonly body: Button | null },
      expectedVersion: number,
      by: string,
      reply: FastifyReply,
    ): FastifyReply => {
      const atMs = clock.now();
      const { id } = request.params;
      const row = { entity: ENTITY, id, effectiveMs: atMs, recordedMs: atMs, by, body: request.body, expectedVersion };
      const done = journal.settings.put(row);
      if (!done.ok) return refuseWrite(reply, { code: 'version-changed', present: done.fault.present?.version ?? 0 });
      return request.body === null ? reply.code(204).send() : sendVersioned(reply, versioned(done.value.setting));
    };
    app.put<{ Params: ById; Body: Button }>(
      '/buttons/:id',
      route({
        tag,
        needs: 'manager',
        summary: 'A button; If-Match holds the version seen, "0" for a new one',
        params: BY_ID,
        body: BUTTON,
        answer: ANSWER,
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const isOther = request.body.id !== request.params.id;
        const faults = [
          ...(isOther ? [{ pointer: '/id', detail: 'The id in the address and in the body differ.' }] : []),
          ...faultsIn(request.body, desk.site()),
        ];
        if (faults.length > 0) return refuse(reply, 'settings-conflict', { first: faults[0]?.detail ?? '' }, faults);
        return put(request, expectedVersion, callerOf(request).name, reply);
      },
    );
    app.delete<{ Params: ById }>(
      '/buttons/:id',
      route({ tag, needs: 'manager', summary: 'The contact writes nothing any more', params: BY_ID }),
      async (request, reply) => {
        const { params } = request;
        const present = ruling(params.id);
        if (present === undefined || present.body === null) return refuse(reply, 'no-such-button', { id: params.id });
        return put({ params, body: null }, present.version, callerOf(request).name, reply);
      },
    );
  };
