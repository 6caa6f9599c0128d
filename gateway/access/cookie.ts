/** Holds the secret of a session, or of a wall's token. */
export const COOKIE = 'nightwater';

/** [RFC 6265 4.2.1] the value of one cookie in a Cookie header; ours never need decoding. */
export const parseCookie = (header: string, name: string): string | undefined =>
  header
    .split(';')
    .map((pair) => pair.trim())
    .find((pair) => pair.startsWith(`${name}=`))
    ?.slice(name.length + 1);
