import type { Journal } from '../journal/journal.js';
import { hashSecret, isSameHash, makeSecret } from './secret.js';

const ENTITY = 'board-credential';

export type BoardCredential = { readonly board: string; readonly password: string };
type Kept = { readonly hash: string };
type Part = Pick<Journal, 'settings'>;

const keptOf = ({ settings }: Part, board: string): { readonly version: number; readonly hash?: string } => {
  const row = settings.latest(ENTITY, board);
  const body = row?.body as Kept | null | undefined;
  return { version: row?.version ?? 0, ...(body === null || body === undefined ? {} : { hash: body.hash }) };
};

/** Which boards have a password. */
export const boardsWithCredential = ({ settings }: Part, atMs: number): readonly string[] =>
  settings.allRuling(ENTITY, atMs).map(({ id }) => id);

export const hasCredential = (journal: Part, board: string): boolean => keptOf(journal, board).hash !== undefined;

/** A new password for a board, told once and kept as a hash; an older one of the same board ends with it. */
export const addBoardCredential = (journal: Part, board: string, by: string, nowMs: number): BoardCredential => {
  const password = makeSecret('nwb');
  const { version } = keptOf(journal, board);
  const body: Kept = { hash: hashSecret(password) };
  const put = { entity: ENTITY, id: board, effectiveMs: nowMs, recordedMs: nowMs, by, body, expectedVersion: version };
  if (!journal.settings.put(put).ok) throw new Error(`The credential of ${board} changed while it was written`);
  return { board, password };
};

/** For the broker inside: whether the name and password of a connection are a board's. */
export const isRightBoard =
  (journal: Part) =>
  (board: string, password: string): boolean => {
    const { hash } = keptOf(journal, board);
    return hash !== undefined && isSameHash(hash, hashSecret(password));
  };
