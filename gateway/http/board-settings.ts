import type { FastifyPluginAsync } from 'fastify';
import type { BoardSettings } from '../../rules/hatchery.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { Setting } from '../journal/settings.js';
import { BOARD, loadHatchery, type WriteFault } from '../settings.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { ANSWER } from './schema/log.js';
import { type JsonSchema, optional, shape, slug, text } from './schema/shape.js';
import { refuseWrite, sendVersioned, versionIn } from './version.js';

const BOARD_SETTINGS: JsonSchema = shape<BoardSettings>({
  id: text(60),
  circuitId: optional(slug),
  accessPoint: optional(text(60)),
});

const versioned = ({ version, effectiveMs, recordedMs, body }: Setting): Versioned<BoardSettings> => ({
  ...{ version, effectiveMs, recordedMs },
  body: body as BoardSettings,
});

/** Where a board gets its power and its network: so that one cause behind many silences is told once. */
export const boardSettingsRoutes =
  ({ journal, desk, clock }: Pick<AppParts, 'journal' | 'desk' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'boards';
    app.get<{ Params: ById }>(
      '/boards/:id/settings',
      route({ tag, needs: 'viewer', summary: 'Power and network of a board', params: BY_ID, answer: ANSWER }),
      async ({ params: { id } }, reply) => {
        const row = journal.settings.ruling(BOARD, id, clock.now());
        if (row !== undefined && row.body !== null) return sendVersioned(reply, versioned(row));
        const atMs = clock.now();
        return sendVersioned(reply, { version: row?.version ?? 0, effectiveMs: atMs, recordedMs: atMs, body: { id } });
      },
    );
    app.put<{ Params: ById; Body: BoardSettings }>(
      '/boards/:id/settings',
      route({
        tag,
        needs: 'manager',
        summary: 'Power and network of a board; If-Match holds the version seen, "0" for the first',
        params: BY_ID,
        body: BOARD_SETTINGS,
        answer: ANSWER,
      }),
      async (request, reply) => {
        const expectedVersion = versionIn(request, reply);
        if (typeof expectedVersion !== 'number') return expectedVersion;
        const { id } = request.params;
        const { body } = request;
        const by = callerOf(request).name;
        const detail =
          body.id !== id
            ? 'The id in the address and in the body differ.'
            : body.circuitId !== undefined && !isCircuit(body.circuitId)
              ? `There is no power circuit “${body.circuitId}”: add it under Tanks first.`
              : undefined;
        if (detail !== undefined) {
          const pointer = body.id === id ? '/circuitId' : '/id';
          return refuse(reply, 'settings-conflict', { first: detail }, [{ pointer, detail }]);
        }
        const done = desk.change((nowMs): Result<Versioned<BoardSettings>, WriteFault> => {
          const row = { entity: BOARD, id, body, by, expectedVersion, effectiveMs: nowMs, recordedMs: nowMs };
          const put = journal.settings.put(row);
          return put.ok
            ? ok(versioned(put.value.setting))
            : fault({ code: 'version-changed', present: put.fault.present?.version ?? 0 });
        });
        return done.ok ? sendVersioned(reply, done.value) : refuseWrite(reply, done.fault);
      },
    );
    const isCircuit = (id: string): boolean =>
      loadHatchery(journal, clock.now()).places.some((place) => place.id === id && place.kind === 'circuit');
  };
