import { fault, ok, type Result } from '../../rules/result.js';
import type { HistoryTrouble } from '../../rules/words/history.js';
import type { InfluxAddress } from './influx-address.js';
import { networkTrouble, statusTrouble } from './influx-trouble.js';

type Place = Omit<InfluxAddress, 'site'>;

/** One series of an answer: rows of values under its columns. */
export type Series = { readonly columns: readonly string[]; readonly values: readonly (readonly unknown[])[] };

type Answer = {
  readonly error?: string;
  readonly message?: string;
  readonly results?: readonly { readonly error?: string; readonly series?: readonly Series[] }[];
};

/** `db/rp` as 1.8 names a bucket; 2 and 3 know a bucket by its own name as a database. */
const databaseOf = (bucket: string): Record<string, string> => {
  const [db = '', rp] = bucket.split('/');
  return rp === undefined ? { db } : { db, rp };
};

const authorized = (token: string): Record<string, string> => (token === '' ? {} : { authorization: `Token ${token}` });

/** Asks one question of InfluxQL through `/query`; times are whole milliseconds. */
export const askInflux = async (
  { url, bucket, token }: Place,
  question: string,
  signal: AbortSignal,
): Promise<Result<readonly Series[], HistoryTrouble>> => {
  const asked = new URLSearchParams({ ...databaseOf(bucket), epoch: 'ms', q: question });
  try {
    const reply = await fetch(`${url}/query?${asked}`, { headers: authorized(token), signal });
    const text = await reply.text();
    const answer = parsed(text);
    if (!reply.ok) return fault(statusTrouble(reply.status, answer?.message ?? answer?.error ?? text));
    const [first] = answer?.results ?? [];
    const refused = answer === undefined ? 'no JSON' : (answer.error ?? first?.error);
    if (refused === undefined) return ok(first?.series ?? []);
    // 1.x says so with 200.
    const isUnknown = /not found/.test(refused);
    return fault({ code: isUnknown ? 'bucket-unknown' : 'question-refused', detail: refused });
  } catch (error) {
    return fault(networkTrouble(error));
  }
};

const parsed = (text: string): Answer | undefined => {
  try {
    return JSON.parse(text) as Answer;
  } catch {
    return undefined;
  }
};

/**
 * Whether it would take readings and give them again, without changing anything: a write of nothing, which each version
 * refuses or takes only after it has looked at token and bucket, and a question.
 */
export const lookAtInflux = async (place: Place, limitMs: number): Promise<HistoryTrouble | undefined> => {
  const { url, org, bucket, token } = place;
  try {
    const asked = new URLSearchParams({ org, bucket, precision: 'ms' });
    const reply = await fetch(`${url}/api/v2/write?${asked}`, {
      method: 'POST',
      headers: authorized(token),
      body: '',
      signal: AbortSignal.timeout(limitMs),
    });
    const said = await reply.text();
    if (!reply.ok && reply.status !== 400) return statusTrouble(reply.status, parsed(said)?.message ?? said);
  } catch (error) {
    return networkTrouble(error);
  }
  const answer = await askInflux(place, 'SELECT raw FROM reading LIMIT 1', AbortSignal.timeout(limitMs));
  return answer.ok ? undefined : answer.fault;
};
