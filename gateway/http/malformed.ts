import type { FastifyPluginAsync } from 'fastify';
import type { MalformedPicture } from '../../rules/wire/api.js';
import { malformedSentence } from '../../rules/words/malformed.js';
import type { KeptMalformed } from '../journal/malformed.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { MALFORMED } from './schema/answer.js';
import { listOf, optional, shape, text } from './schema/shape.js';

type Asked = { readonly board?: string; readonly most?: number };
const ASKED = shape<Asked>({
  board: optional(text(200)),
  most: optional({ type: 'integer', minimum: 1, maximum: 1_000, default: 100 }),
});

const SHOWN_BYTES = 200;

/** As text where it is text that can be printed, else in hexadecimal. */
export const shownStart = (start: Uint8Array): string => {
  const bytes = start.subarray(0, SHOWN_BYTES);
  const words = new TextDecoder('utf-8').decode(bytes, { stream: true });
  return /[\p{Cc}\uFFFD]/u.test(words.replaceAll(/[\t\r\n]/g, '')) ? Buffer.from(bytes).toString('hex') : words;
};

const pictureOf = ({ atMs, topic, board, code, parameters, start, bytes }: KeptMalformed): MalformedPicture => ({
  atMs,
  topic,
  ...(board === undefined ? {} : { board }),
  code,
  sentence: malformedSentence(code, parameters),
  start: shownStart(start),
  bytes,
});

/** Messages that gave no reading, each with why and how to mend it. */
export const malformedRoutes =
  ({ journal }: Pick<AppParts, 'journal'>): FastifyPluginAsync =>
  async (app) => {
    app.get<{ Querystring: Asked }>(
      '/malformed',
      route({
        tag: 'boards',
        needs: 'viewer',
        summary: 'The newest messages that could not be understood, or were odd',
        querystring: ASKED,
        answer: listOf(MALFORMED),
      }),
      async ({ query: { board, most = 100 } }) => journal.malformed.newest(most, board).map(pictureOf),
    );
  };
