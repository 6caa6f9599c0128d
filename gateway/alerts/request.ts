import { later, type Outcome } from './way.js';

export type Posted = { readonly status: number; readonly retryAfter?: string };

export type Posting = {
  readonly url: URL;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Uint8Array;
  readonly limitMs: number;
};

/** Answers of these endpoints carry nothing that we need: so much is read and thrown away. */
const MOST_ANSWER_BYTES = 64 * 1024;

/** One POST, no redirect followed, ended after the limit whatever the other end does. */
export const post = async ({ url, headers, body, limitMs }: Posting): Promise<Posted | Outcome> => {
  const signal = AbortSignal.timeout(limitMs);
  try {
    const answer = await fetch(url, {
      method: 'POST',
      headers: { ...headers },
      body: Buffer.from(body),
      redirect: 'manual',
      signal,
    });
    await drain(answer);
    const retryAfter = answer.headers.get('retry-after');
    return { status: answer.status, ...(retryAfter === null ? {} : { retryAfter }) };
  } catch (error) {
    return signal.aborted ? later('timed-out') : later('no-connection', causeOf(error));
  }
};

export const isOutcome = (answer: Posted | Outcome): answer is Outcome => 'kind' in answer;

/** Lets the connection be used again; an endless answer is cut. */
const drain = async ({ body }: Response): Promise<void> => {
  if (body === null) return;
  let bytes = 0;
  for await (const chunk of body) {
    bytes += chunk.byteLength;
    if (bytes > MOST_ANSWER_BYTES) return;
  }
};

/** The system's short word, as `ECONNREFUSED`. */
const causeOf = (error: unknown): string => {
  const cause = error instanceof Error ? (error.cause ?? error) : error;
  return cause instanceof Error && 'code' in cause ? String(cause.code) : 'unknown';
};
