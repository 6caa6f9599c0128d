import type { Needs } from './guard.js';
import { PROBLEM } from './schema/answer.js';
import { type JsonSchema, shape, text } from './schema/shape.js';

export type RouteWords = {
  /** One line, for the list of the API. */
  readonly summary: string;
  readonly needs: Needs;
  /** What a good answer holds; without one there is none (204). */
  readonly answer?: JsonSchema | { readonly type: string; readonly description: string };
  readonly status?: 200 | 201 | 202;
  readonly body?: JsonSchema;
  readonly params?: JsonSchema;
  readonly querystring?: JsonSchema;
  readonly headers?: JsonSchema;
  /** Groups the list of the API. */
  readonly tag: string;
};

const problemAnswer = { description: 'what went wrong', content: { 'application/problem+json': { schema: PROBLEM } } };

const security = (needs: Needs): readonly Readonly<Record<string, readonly string[]>>[] =>
  needs === 'nothing' ? [] : [{ session: [] }, { token: [] }];

const answerOf = ({ answer, status = 200 }: RouteWords): Readonly<Record<string, JsonSchema>> => {
  if (answer === undefined) return { 204: { description: 'done', type: 'null' } };
  if (typeof answer.type === 'string' && answer.type.includes('/'))
    return {
      [status]: { description: answer.description, content: { [answer.type]: { schema: { type: 'string' } } } },
    };
  return { [status]: { description: 'done', ...answer } };
};

/** Options of a route: what it needs, what it takes, what it gives. Nothing is served that is not described. */
export const route = (words: RouteWords) => ({
  config: { needs: words.needs },
  schema: {
    summary: words.summary,
    description: words.needs === 'nothing' ? 'For everybody.' : `Needs the role ${words.needs} or a higher one.`,
    tags: [words.tag],
    security: security(words.needs),
    ...(words.body === undefined ? {} : { body: words.body }),
    ...(words.params === undefined ? {} : { params: words.params }),
    querystring: words.querystring ?? shape<Record<never, never>>({}),
    response: { ...answerOf(words), default: problemAnswer },
  },
});

/** `{id}` in an address. */
export type ById = { readonly id: string };
export const BY_ID: JsonSchema = shape<ById>({ id: text(300) });

export type ByNumber = { readonly id: number };
export const BY_NUMBER: JsonSchema = shape<ByNumber>({
  id: { type: 'integer', minimum: 0, maximum: Number.MAX_SAFE_INTEGER },
});

/** For what is done to something without saying more. */
export const NO_BODY: JsonSchema = shape<Record<never, never>>({});
