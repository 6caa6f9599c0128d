import type { FastifyPluginAsync } from 'fastify';
import { QUANTITIES, type Quantity } from '../../rules/quantity.js';
import type { AddedBoard, Recipe } from '../../rules/wire/api.js';
import type { BoardPicture } from '../../rules/wire/picture.js';
import { addBoardCredential, boardsWithCredential, hasCredential } from '../access/board-credentials.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { type Credential, recipeFor } from './recipe.js';
import { route } from './route.js';
import { BOARD } from './schema/picture.js';
import { anyText, count, type JsonSchema, listOf, optional, shape, slug, text, wordOf, yesNo } from './schema/shape.js';

const RECIPE = shape<Recipe>({
  publishLine: { ...anyText, description: 'complete, to paste into a terminal' },
  host: anyText,
  port: count,
  tls: yesNo,
  user: optional(anyText),
  topicExample: anyText,
  statusTopic: anyText,
  remark: anyText,
});

type Asked = { readonly tank?: string; readonly quantity?: Quantity };
/** What a topic level may be, and a shell and a person can read. */
const tankName: JsonSchema = {
  ...text(60),
  pattern: '^[^/+#\\p{Cc}]+$',
  description: 'a level of a topic: no /, + or #',
};
const ASKED = shape<Asked>({ tank: optional(tankName), quantity: optional(wordOf(QUANTITIES)) });

type NewBoard = { readonly board: string; readonly replace?: boolean } & Asked;
const NEW_BOARD = shape<NewBoard>({
  board: slug,
  replace: optional({ ...yesNo, description: 'also when it has a password already' }),
  tank: optional(tankName),
  quantity: optional(wordOf(QUANTITIES)),
});

const ADDED = shape<AddedBoard>({ board: anyText, password: anyText, recipe: RECIPE });

const EXAMPLE = { tank: 'tank-1', quantity: 'temperature', value: 23.4 } as const;

/** Boards that speak to us, and how a new one does. */
export const boardRoutes =
  ({
    watchkeeper,
    journal,
    clock,
    boardDoor,
  }: Pick<AppParts, 'watchkeeper' | 'journal' | 'clock' | 'boardDoor'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'boards';
    const recipeOf = (asked: Asked, pageHost: string | undefined, credential?: Credential): Recipe =>
      recipeFor(boardDoor(), { ...EXAMPLE, ...asked, pageHost, ...(credential === undefined ? {} : { credential }) });

    app.get(
      '/boards',
      route({ tag, needs: 'viewer', summary: 'Every board with its state', answer: listOf(BOARD) }),
      async () => withQuietOnes(watchkeeper.picture().boards, boardsWithCredential(journal, clock.now()), clock.now()),
    );
    app.get<{ Querystring: Asked }>(
      '/boards/recipe',
      route({
        tag,
        needs: 'crew',
        summary: 'How a board publishes here: a line to paste',
        querystring: ASKED,
        answer: RECIPE,
      }),
      async ({ query, headers }) => recipeOf(query, headers.host),
    );
    app.post<{ Body: NewBoard }>(
      '/boards',
      route({
        tag,
        needs: 'manager',
        status: 201,
        summary: 'Add a board: its name and password, told this once, with the complete publish line',
        body: NEW_BOARD,
        answer: ADDED,
      }),
      async (request, reply) => {
        const { board, replace = false, ...asked } = request.body;
        if (!replace && hasCredential(journal, board)) return refuse(reply, 'board-has-password', { board });
        const credential = addBoardCredential(journal, board, callerOf(request).name, clock.now());
        const recipe = recipeOf(asked, request.headers.host, credential);
        return reply
          .code(201)
          .header('cache-control', 'no-store')
          .send({ ...credential, recipe } satisfies AddedBoard);
      },
    );
  };

/** A board with a password that has not been heard yet is on the list too: that is how one sees that it is missing. */
const withQuietOnes = (
  heard: readonly BoardPicture[],
  credentialled: readonly string[],
  nowMs: number,
): readonly BoardPicture[] => {
  const known = new Set(heard.map(({ id }) => id));
  const quiet = credentialled.filter((id) => !known.has(id));
  return [...heard, ...quiet.map((id) => ({ id, state: 'unknown', sinceMs: nowMs, malformed: 0 }) as const)];
};
