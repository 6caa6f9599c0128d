import type { AlarmPicture } from '../alarm/alarm.js';
import { parseChannelId } from '../channel.js';
import type { ConditionCode } from '../conditions/finding.js';
import type { Place } from '../place.js';

type Supply = 'lineId' | 'airMainId' | 'circuitId';

/** What a condition speaks of, and by which supply it may be shared. */
const FAMILY: { readonly [code in ConditionCode]?: readonly [family: string, supply: Supply] } = {
  'air-lost': ['air', 'airMainId'],
  'oxygen-falling': ['air', 'airMainId'],
  'mains-lost': ['power', 'circuitId'],
  'line-moved-together': ['line', 'lineId'],
  'salinity-shift': ['line', 'lineId'],
  'flow-lost': ['flow', 'lineId'],
};

/** Alarms of these are of a board or of everything, not of a tank. */
const SILENCES: readonly ConditionCode[] = ['board-offline', 'everything-silent'];

/**
 * Words that are the same for alarms with one cause: cause family and shared supply, else the quantity of one place.
 * A heater that sticks and the ceiling that is passed after it are one fault; six tanks on one dead air main are, too.
 */
export const causeOf = ({ finding }: AlarmPicture, places: readonly Place[]): string => {
  const { condition, placeId, channelId, boardId } = finding;
  if (SILENCES.includes(condition)) return `silence ${boardId ?? 'site'}`;
  if (boardId !== undefined) return `${condition} ${boardId}`;
  const [family, supply] = FAMILY[condition] ?? [];
  if (family !== undefined && supply !== undefined) {
    const shared = places.find(({ id }) => id === placeId)?.[supply] ?? placeId;
    return `${family} ${shared}`;
  }
  const quantity = channelId === undefined ? undefined : parseChannelId(channelId)?.quantity;
  return `${quantity ?? condition} ${placeId}`;
};
