import type { FastifyPluginAsync } from 'fastify';
import { makeChannelId } from '../../rules/channel.js';
import { isKind } from '../../rules/log/entry.js';
import { type SpawningRun, spawningRun } from '../../rules/log/run.js';
import { phasesInTrace } from '../../rules/log/trace-phase.js';
import type { RunPicture } from '../../rules/wire/log.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { ANSWER } from './schema/log.js';
import { listOf } from './schema/shape.js';

/** Half a minute a point over four hours. */
const POINTS = 480;

/** Spawning runs. They are planned, told phase by phase and ended by entries of the log. */
export const runRoutes =
  ({ log, history, clock }: Pick<AppParts, 'log' | 'history' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'runs';
    const runOf = (id: string): SpawningRun | undefined => {
      const { ruling } = log.record();
      const names = new Map([...ruling.standsFor].map(([first, last]) => [last.id, first]));
      return spawningRun(id, ruling.entries, (own) => names.get(own) ?? own);
    };
    app.get(
      '/runs',
      route({ tag, needs: 'viewer', summary: 'Every spawning run, the newest first', answer: listOf(ANSWER) }),
      async (): Promise<readonly SpawningRun[]> => {
        const { written } = log.record();
        return [...written.values()]
          .filter((entry) => isKind(entry, 'run-plan') && entry.corrects === undefined)
          .flatMap(({ id }) => runOf(id) ?? [])
          .sort((a, b) => b.startedMs - a.startedMs);
      },
    );
    app.get<{ Params: ById }>(
      '/runs/:id',
      route({
        tag,
        needs: 'viewer',
        summary: 'One run, and the phases that its trace shows',
        params: BY_ID,
        answer: ANSWER,
      }),
      async ({ params: { id } }, reply) => {
        const run = runOf(id);
        if (run === undefined) return refuse(reply, 'no-such-run');
        const channel = makeChannelId({ placeId: run.placeId, quantity: 'temperature' });
        const toMs = Math.max(run.startedMs + 1, run.ended?.atMs ?? clock.now());
        const { atMs, mean } = await history.readings(channel, run.startedMs, toMs, POINTS);
        const trace = atMs.map((at, n) => ({ atMs: at, temperatureC: mean[n] ?? null }));
        return { run, seen: phasesInTrace(trace, run.plan) } satisfies RunPicture;
      },
    );
  };
