import { parseChannelId } from '../../rules/channel.js';
import type { AppParts } from './parts.js';

/** Whether there is or was such a channel: now, or by some source's naming in the past. */
export const knowsChannel = (
  { watchkeeper, journal }: Pick<AppParts, 'watchkeeper' | 'journal'>,
  id: string,
): boolean => {
  const address = parseChannelId(id);
  if (address === undefined) return false;
  if (watchkeeper.state().plan.channelOf.has(id)) return true;
  const named = journal.mappings.list().map(({ channelId }) => channelId);
  // A computed channel of the past: its place had probes once.
  return (
    named.includes(id) || (address.computed === true && named.some((each) => each.startsWith(`${address.placeId}.`)))
  );
};
