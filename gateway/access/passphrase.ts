import { hash, verify } from '@node-rs/argon2';

export const SHORTEST_PASSPHRASE = 10;
export const LONGEST_PASSPHRASE = 200;

/** argon2id with 19 MiB, two passes, one lane: the library's defaults and OWASP's first choice, from memory. */
export const hashPassphrase = (passphrase: string): Promise<string> => hash(passphrase.normalize('NFKC'));

/** Somebody unknown costs as much time as a wrong passphrase, so that names cannot be tried out. */
export const isRightPassphrase = async (kept: string | undefined, passphrase: string): Promise<boolean> => {
  const right = await verify(kept ?? (await nobodysHash()), passphrase.normalize('NFKC'));
  return right && kept !== undefined;
};

let nobody: Promise<string> | undefined;
const nobodysHash = (): Promise<string> => {
  nobody ??= hashPassphrase('nobody has this passphrase');
  return nobody;
};

/** Too short, or the same character over and over: the only rules. Length is what protects. */
export const isWeak = (passphrase: string): boolean =>
  [...passphrase].length < SHORTEST_PASSPHRASE || new Set(passphrase).size < 4;
