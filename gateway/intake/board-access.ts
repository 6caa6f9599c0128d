import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import { filterCovers } from './topic-filter.js';

/** Addresses of this machine itself: only from there may a board speak without a credential. */
export const isLoopback = (address: string | undefined): boolean =>
  address === '::1' || /^(::ffff:)?127\.\d+\.\d+\.\d+$/.test(address ?? '');

export type Publisher = {
  /** The name in the credential; undefined for an anonymous board on this machine. */
  readonly board: string | undefined;
  readonly filters: readonly string[];
};

/**
 * Why a board may not publish to a topic, or undefined when it may: below its own name, or to what the gateway listens
 * to. Everything else, the gateway's own `nightwater/` above all, would be a forgery or a slip of the pen.
 */
export const publishRefusal = (topic: string, { board, filters }: Publisher): Malformed | undefined => {
  const named = { topic: topic.slice(0, 200) };
  const [root, owner] = topic.split('/');
  if (root === 'boards' && board !== undefined && owner !== board)
    return malformed('topic-not-own', { board, ...named });
  return filters.some((filter) => filterCovers(filter, topic)) ? undefined : malformed('topic-not-watched', named);
};
