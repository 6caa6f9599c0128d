/**
 * Names of log entries, made where they are written: 48 bits of time, 80 of chance, in Crockford's base 32, so that they
 * sort by time. Format: the ULID specification (github.com/ulid/spec).
 */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const ULID = /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/;

export const isUlid = (text: string): boolean => ULID.test(text);

/** `chance`: ten bytes of the platform's own randomness, given from outside. */
export const makeUlid = (atMs: number, chance: Uint8Array): string => {
  if (!(atMs >= 0 && atMs < 2 ** 48) || chance.length !== 10) throw new Error('A ULID needs a time and ten bytes');
  let time = '';
  for (let rest = Math.floor(atMs), place = 0; place < 10; place += 1, rest = Math.floor(rest / 32)) {
    time = `${LETTERS[rest % 32]}${time}`;
  }
  return time + inLetters(chance.subarray(0, 5)) + inLetters(chance.subarray(5, 10));
};

/** Five bytes are eight letters. */
const inLetters = (bytes: Uint8Array): string => {
  let letters = '';
  for (let bits = 0, held = 0, index = 0; index < bytes.length; index += 1) {
    held = (held << 8) | (bytes[index] ?? 0);
    bits += 8;
    for (; bits >= 5; bits -= 5) letters += LETTERS[(held >>> (bits - 5)) & 31];
    held &= (1 << bits) - 1;
  }
  return letters;
};

/** The time in it, UTC milliseconds. */
export const ulidTimeMs = (ulid: string): number =>
  [...ulid.slice(0, 10)].reduce((sum, letter) => sum * 32 + LETTERS.indexOf(letter), 0);
