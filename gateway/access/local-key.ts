import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeSecret } from './secret.js';

/** How a command on this machine reaches the running gateway: only who owns the data folder can read it. */
export type LocalKey = { readonly url: string; readonly token: string; readonly certificate?: string };

const FILE = 'running.json';

/** Writes the key beside the journal, readable for its owner only. */
export const leaveLocalKey = (
  folder: string,
  { url, certificate }: Omit<LocalKey, 'token'>,
  token: string = makeSecret('nwt'),
): { readonly token: string; readonly takeAway: () => void } => {
  const path = join(folder, FILE);
  const key: LocalKey = { url, token, ...(certificate === undefined ? {} : { certificate }) };
  rmSync(`${path}.new`, { force: true });
  writeFileSync(`${path}.new`, JSON.stringify(key), { mode: 0o600, flag: 'wx' });
  renameSync(`${path}.new`, path);
  return { token, takeAway: () => rmSync(path, { force: true }) };
};

/** What the running gateway left there; undefined when none did, or the file is of no use. */
export const findLocalKey = (folder: string): LocalKey | undefined => {
  try {
    const { url, token, certificate } = JSON.parse(readFileSync(join(folder, FILE), 'utf8')) as Partial<LocalKey>;
    if (typeof url !== 'string' || typeof token !== 'string') return undefined;
    return { url, token, ...(typeof certificate === 'string' ? { certificate } : {}) };
  } catch {
    return undefined;
  }
};
