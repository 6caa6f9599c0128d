import { parseChannelId } from '../../rules/channel.js';
import type { ChannelPart, ReviewedChannel } from '../../rules/review/channel.js';
import type { PatternTank } from '../../rules/review/pattern.js';
import type { Span } from '../../rules/review/piece.js';
import { type ReviewWindow, widest } from '../../rules/review/window.js';
import type { DeclaredWork } from '../../rules/work.js';
import type { History } from '../history/history.js';
import type { Journal } from '../journal/journal.js';
import { datedWants } from './wants.js';

/** Tanks without deaths that are shown in full; every one of them counts in the pattern. */
const MOST_UNAFFECTED = 8;

export type ReviewedPlace = { readonly placeId: string; readonly part: ChannelPart };

/** Affected tanks, what supplies them, and the unaffected that stand closest: on the same line first, then of the same stage. */
export const reviewedPlaces = (tanks: readonly PatternTank[]): readonly ReviewedPlace[] => {
  const affected = tanks.filter((tank) => tank.affected);
  const suppliesOf = ({ lineId, airMainId, circuitId }: PatternTank) => [lineId, airMainId, circuitId];
  const supplies = [...new Set(affected.flatMap(suppliesOf))].filter((id) => id !== undefined);
  const distance = (tank: PatternTank): number =>
    (affected.some(({ lineId }) => lineId === tank.lineId) ? 0 : 2) +
    (affected.some(({ stage }) => stage === tank.stage) ? 0 : 1);
  const others = tanks.filter((tank) => !tank.affected).toSorted((a, b) => distance(a) - distance(b));
  return [
    ...supplies.map((placeId) => ({ placeId, part: 'supply' as const })),
    ...affected.map(({ placeId }) => ({ placeId, part: 'affected' as const })),
    ...others.slice(0, MOST_UNAFFECTED).map(({ placeId }) => ({ placeId, part: 'unaffected' as const })),
  ];
};

/** Every channel that these places had in the span; contacts and batteries are no water. */
export const channelsOf = (
  { mappings }: Pick<Journal, 'mappings'>,
  computed: readonly string[],
  placeId: string,
  span: Span,
): readonly string[] => {
  const named = mappings
    .list()
    .filter(({ fromMs, toMs, ruling }) => ruling && fromMs < span.toMs && (toMs ?? span.toMs) > span.fromMs)
    .map(({ channelId }) => channelId);
  const all = [...new Set([...named, ...computed])].map((id) => ({ id, address: parseChannelId(id) }));
  return all
    .filter(({ address }) => address?.placeId === placeId)
    .filter(({ address }) => address?.quantity !== 'contact' && address?.quantity !== 'battery')
    .map(({ id }) => id);
};

/** Until its end was told, else until its time was over. */
export const workSpan = ({ fromMs, untilMs, endedMs }: DeclaredWork): Span => ({ fromMs, toMs: endedMs ?? untilMs });

export type ChannelQuestion = ReviewedPlace & {
  readonly channelId: string;
  readonly windows: readonly ReviewWindow[];
  readonly work: readonly DeclaredWork[];
  readonly zone: string;
  readonly nowMs: number;
};

/** One channel with what only the settings and the log know of it. */
export const reviewChannel = async (
  { journal, history }: { readonly journal: Journal; readonly history: History },
  { work, ...asked }: ChannelQuestion,
): Promise<ReviewedChannel> => {
  const { channelId, placeId, windows } = asked;
  const quantity = parseChannelId(channelId)?.quantity;
  if (quantity === undefined) throw new Error(`Not a channel id: ${channelId}`);
  return history.review({
    ...asked,
    wants: datedWants(journal, { placeId, quantity, span: widest(windows) }),
    work: work.filter((one) => one.placeId === placeId).map(workSpan),
  });
};
