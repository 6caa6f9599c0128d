import { request as httpRequest } from 'node:http';
import { request as httpsRequest } from 'node:https';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Problem } from '../../rules/wire/api.js';
import { findLocalKey, type LocalKey } from '../access/local-key.js';

export type Asking = {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  readonly body?: unknown;
  readonly ifMatch?: string;
};
export type Reply = { readonly status: number; readonly text: string; readonly etag?: string };

/** The gateway that runs on this machine, as a command speaks to it. */
export type Running = {
  ask(path: string, asking?: Asking): Promise<Result<Reply, readonly string[]>>;
};

const WAIT_MS = 30_000;

/** The running gateway of a data folder, by the key that it left there. */
export const findRunning = (folder: string): Running | undefined => {
  const key = findLocalKey(folder);
  return key === undefined ? undefined : { ask: (path, asking = {}) => ask(key, path, asking) };
};

const ask = async (key: LocalKey, path: string, asking: Asking): Promise<Result<Reply, readonly string[]>> => {
  try {
    const reply = await send(key, path, asking);
    return reply.status < 400 ? ok(reply) : fault(sentencesOf(reply));
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    return fault([
      `The running Nightwater does not answer at ${key.url} (${code ?? message}): is it still starting, or stuck?`,
    ]);
  }
};

const sentencesOf = ({ status, text }: Reply): readonly string[] => {
  try {
    const { detail, faults = [] } = JSON.parse(text) as Partial<Problem>;
    if (faults.length > 0) return faults.map((each) => each.detail);
    return [detail ?? `The gateway refused (${status}).`];
  } catch {
    return [`The gateway refused (${status}).`];
  }
};

/** The certificate is the gateway's own, read from its folder: it is compared whole, its name does not matter. */
const send = (
  { url, token, certificate }: LocalKey,
  path: string,
  { method = 'GET', body, ifMatch }: Asking,
): Promise<Reply> =>
  new Promise((resolve, reject) => {
    const target = new URL(`/api/v1${path}`, url);
    const text = body === undefined ? undefined : JSON.stringify(body);
    const headers = {
      authorization: `Bearer ${token}`,
      ...(text === undefined ? {} : { 'content-type': 'application/json', 'content-length': Buffer.byteLength(text) }),
      ...(ifMatch === undefined ? {} : { 'if-match': ifMatch }),
    };
    const pinned = certificate === undefined ? {} : { ca: certificate, checkServerIdentity: () => undefined };
    const options = { method, headers, timeout: WAIT_MS, ...pinned };
    const sent = (target.protocol === 'https:' ? httpsRequest : httpRequest)(target, options, (answer) => {
      const pieces: Buffer[] = [];
      answer.on('data', (piece: Buffer) => pieces.push(piece));
      answer.on('error', reject);
      answer.on('end', () => {
        const { etag } = answer.headers;
        const whole = Buffer.concat(pieces).toString('utf8');
        resolve({ status: answer.statusCode ?? 0, text: whole, ...(etag === undefined ? {} : { etag }) });
      });
    });
    sent.on('timeout', () => sent.destroy(new Error('no answer in 30 s')));
    sent.on('error', reject);
    sent.end(text);
  });
