import { RequestTimedOutError } from '@influxdata/influxdb-client';
import type { HistoryTrouble } from '../../rules/words/history.js';

export const LONGEST_DETAIL = 160;

/** What a status of the database means, of questions and of writes; `said`: its own words. */
export const statusTrouble = (status: number, said: string): HistoryTrouble => ({
  code: codeOf(status),
  detail: detailOf(status, said),
});

export const detailOf = (status: number, said: string): string => {
  const text = said.replace(/\s+/g, ' ').trim();
  return `${status}${text === '' ? '' : `: ${text.slice(0, LONGEST_DETAIL)}`}`;
};

const codeOf = (status: number): HistoryTrouble['code'] => {
  if (status === 401 || status === 403) return 'token-refused';
  if (status === 404) return 'bucket-unknown';
  if (status === 400 || status === 422) return 'question-refused';
  return status === 429 || status === 503 ? 'busy' : 'server-trouble';
};

/** Why nothing came back. */
export const networkTrouble = (error: unknown): HistoryTrouble => {
  const timedOut = error instanceof RequestTimedOutError || codesOf(error).includes('ETIMEDOUT');
  if (timedOut || (error instanceof Error && error.name === 'TimeoutError')) return { code: 'no-answer', detail: '' };
  const message = error instanceof Error ? error.message : String(error);
  return { code: 'unreachable', detail: codesOf(error)[0] ?? message.slice(0, LONGEST_DETAIL) };
};

/** `fetch` wraps what happened in an error of its own. */
const codesOf = (error: unknown): readonly string[] => {
  if (!(error instanceof Error)) return [];
  const { code } = error as NodeJS.ErrnoException;
  return [...(code === undefined ? [] : [code]), ...codesOf(error.cause)];
};
