import { HttpError, InfluxDB, type Point, RequestTimedOutError, setLogger } from '@influxdata/influxdb-client';
import type { HistoryTrouble } from '../../rules/words/history.js';
import type { InfluxAddress } from './influx-address.js';
import { detailOf, networkTrouble, statusTrouble } from './influx-trouble.js';

/** `refused`: these points are never taken. `later`: nothing was said about them; `waitMs` as the database asked. */
export type Written =
  | { readonly kind: 'written' }
  | { readonly kind: 'refused'; readonly because: string }
  | { readonly kind: 'later'; readonly trouble: HistoryTrouble; readonly waitMs?: number };

export type WritePoints = (points: readonly Point[]) => Promise<Written>;

/**
 * Writes through `/api/v2/write`. The client's own batches, retries and its retry buffer are switched off: they would not
 * tell which readings have landed.
 */
export const openInfluxWriter = ({ url, token, org, bucket }: InfluxAddress, limitMs: number): WritePoints => {
  // It would write of every failure to the console; the spool says it once, in a sentence.
  setLogger({ error: () => undefined, warn: () => undefined });
  const database = new InfluxDB({ url, timeout: limitMs, ...(token === '' ? {} : { token }) });
  return async (points) => {
    const api = database.getWriteApi(org, bucket, 'ms', {
      // More than there is: it sends only when it is told to.
      batchSize: points.length + 1,
      maxBatchBytes: Number.POSITIVE_INFINITY,
      flushInterval: 0,
      maxRetries: 0,
      gzipThreshold: 8_192,
    });
    api.writePoints(points);
    try {
      await within(api.flush(), limitMs);
      return { kind: 'written' };
    } catch (error) {
      return outcomeOf(error);
    } finally {
      api.dispose();
    }
  };
};

/** The client's limit is for a line that is quite silent; an answer that comes a byte at a time would hold us for ever. */
const within = async (sent: Promise<void>, limitMs: number): Promise<void> => {
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new RequestTimedOutError()), limitMs);
  });
  try {
    await Promise.race([sent, limit]);
  } finally {
    clearTimeout(timer);
  }
};

const outcomeOf = (error: unknown): Written => {
  if (!(error instanceof HttpError)) return { kind: 'later', trouble: networkTrouble(error) };
  const { statusCode } = error;
  // What it says of the points themselves: not understood, another type, outside its retention, or too many at once.
  if (statusCode === 400 || statusCode === 413 || statusCode === 422)
    return { kind: 'refused', because: detailOf(statusCode, saidOf(error)) };
  const waitMs = error.headers?.['retry-after'] === undefined ? undefined : error.retryAfter();
  const trouble = statusTrouble(statusCode, saidOf(error));
  return { kind: 'later', trouble, ...(waitMs === undefined ? {} : { waitMs }) };
};

/** Its own words, where it has any. */
const saidOf = ({ json, body }: HttpError): string => {
  const said: unknown = json?.message ?? json?.error ?? body;
  return typeof said === 'string' ? said : '';
};
