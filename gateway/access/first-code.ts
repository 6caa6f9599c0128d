import type { Journal } from '../journal/journal.js';
import { hashPassphrase, isRightPassphrase } from './passphrase.js';
import { makeCode, plainCode } from './secret.js';

/** In `meta`: the hash of the code that lets the first manager in. */
const FIRST_CODE = 'first-code';

/**
 * The one-time code for the first manager, to be printed on the console; undefined when somebody can sign in already. A
 * new one each start: what an old console shows is worth nothing.
 */
export const prepareFirstCode = async (
  journal: Pick<Journal, 'meta' | 'accounts'>,
  make: () => string = makeCode,
): Promise<string | undefined> => {
  if (journal.accounts.list().length > 0) return undefined;
  const code = make();
  journal.meta.set(FIRST_CODE, await hashPassphrase(plainCode(code)));
  return code;
};

export const isFirstCode = async ({ meta }: Pick<Journal, 'meta'>, typed: string): Promise<boolean> => {
  const kept = meta.get(FIRST_CODE);
  return isRightPassphrase(kept === '' ? undefined : kept, plainCode(typed));
};

export const spendFirstCode = ({ meta }: Pick<Journal, 'meta'>): void => {
  meta.set(FIRST_CODE, '');
};
