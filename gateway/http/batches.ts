import type { FastifyPluginAsync } from 'fastify';
import { batchStory, nextStage } from '../../rules/log/batch.js';
import { batchNames } from '../../rules/log/inspector.js';
import { type StageStay, stageStays } from '../../rules/log/stage-stay.js';
import type { BatchLine, BatchPicture, StockPicture } from '../../rules/wire/log.js';
import { refuse } from './faults.js';
import { isAbout, lineOf, replacedIn } from './log-lines.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { ANSWER } from './schema/log.js';
import { listOf } from './schema/shape.js';

/** Animals: what is in each tank, and each batch from its spawning run on. */
export const batchRoutes =
  ({ journal, log }: Pick<AppParts, 'journal' | 'log'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'batches';
    app.get(
      '/stock',
      route({ tag, needs: 'viewer', summary: 'What is in each tank by the log, with its interval', answer: ANSWER }),
      async (): Promise<StockPicture> => {
        const { stock, inside } = log.record();
        return {
          lots: stock.book.lots,
          doubts: stock.moves.flatMap(({ entry, doubts }) =>
            doubts.map((doubt) => ({ ...doubt, entryId: entry.id, atMs: entry.atMs })),
          ),
          disinfected: [...inside].map(([placeId, { sinceMs, product }]) => ({ placeId, sinceMs, product })),
        };
      },
    );
    app.get(
      '/batches',
      route({ tag, needs: 'viewer', summary: 'Every batch, the youngest first', answer: listOf(ANSWER) }),
      async (): Promise<readonly BatchLine[]> => {
        const { stock } = log.record();
        return batchNames(stock)
          .flatMap((id) => batchStory(id, stock) ?? [])
          .map(({ speciesGroup, beganMs, origin, parents, lots, id }) => ({
            id,
            speciesGroup,
            beganMs,
            parents,
            lots,
            ...(origin === undefined ? {} : { origin }),
          }))
          .sort((a, b) => b.beganMs - a.beganMs);
      },
    );
    app.get(
      '/stage-stays',
      route({
        tag,
        needs: 'viewer',
        summary: 'Every stay of a batch in one tank and stage, the earliest first',
        answer: listOf(ANSWER),
      }),
      async (): Promise<readonly StageStay[]> => stageStays(log.record().ruling.entries),
    );
    app.get<{ Params: ById }>(
      '/batches/:id',
      route({ tag, needs: 'viewer', summary: 'The story of one batch', params: BY_ID, answer: ANSWER }),
      async ({ params: { id } }, reply) => {
        const record = log.record();
        const story = batchStory(id, record.stock);
        if (story === undefined) return refuse(reply, 'no-such-batch', { id });
        const replaced = replacedIn(record);
        const about = isAbout(record, id);
        const lines = [...record.written.values()]
          .filter(about)
          .flatMap((entry) => journal.log.byId(entry.id) ?? [])
          .map((row) => lineOf(row, replaced))
          .sort((a, b) => a.entry.atMs - b.entry.atMs);
        const next = story.lots.flatMap((lot) => {
          const stage = nextStage(lot);
          return stage === undefined ? [] : [{ placeId: lot.placeId, next: stage }];
        });
        return { story, next, lines } satisfies BatchPicture;
      },
    );
  };
