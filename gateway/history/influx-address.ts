import type { Config } from '../config.js';

/** Where a history database is, and whose readings are ours in it. */
export type InfluxAddress = Omit<Extract<Config['history'], { kind: 'influx' }>, 'kind'> & {
  /** The site's id: many sites may write into one bucket. */
  readonly site: string;
};

/** For people, without the token. */
export const shownInflux = ({ url, bucket }: Pick<InfluxAddress, 'url' | 'bucket'>): string =>
  `${url}, bucket ${bucket}`;

/** One database from another: a journal that is told of another is due everything to it. */
export const influxTarget = ({ url, org, bucket, site }: InfluxAddress): string =>
  new URLSearchParams({ url, org, bucket, site }).toString();

/**
 * A source's key or a place's id as a tag. Topics may hold anything; line protocol and InfluxQL disagree about backslashes,
 * quotes and line ends, so all but the plain signs are written as %XX, byte by byte: one to one, and the same in both.
 */
export const tagOf = (text: string): string =>
  text.replace(/[^A-Za-z0-9_./#@:~+-]/gu, (sign) =>
    [...new TextEncoder().encode(sign)].map((byte) => `%${byte.toString(16).toUpperCase().padStart(2, '0')}`).join(''),
  );
