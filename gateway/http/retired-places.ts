import type { FastifyPluginAsync } from 'fastify';
import { makeChannelId, parseChannelId } from '../../rules/channel.js';
import { computationsAt } from '../../rules/engine/compute.js';
import type { Place } from '../../rules/place.js';
import type { Quantity } from '../../rules/quantity.js';
import type { RetiredChannel, RetiredPlace } from '../../rules/wire/api.js';
import { PLACE } from '../settings.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { ANSWER } from './schema/log.js';
import { listOf } from './schema/shape.js';

type Parts = Pick<AppParts, 'journal' | 'clock'>;

/** What was ever measured at a place, and what is computed from that. */
const channelsAt = ({ mappings }: Parts['journal'], placeId: string): readonly RetiredChannel[] => {
  const ids = [...new Set(mappings.list().map(({ channelId }) => channelId))];
  const measured = ids.flatMap((id): readonly RetiredChannel[] => {
    const address = parseChannelId(id);
    if (address?.placeId !== placeId) return [];
    const { quantity, position } = address;
    return [{ id, placeId, quantity, computed: false, ...(position === undefined ? {} : { position }) }];
  });
  const known = new Set<Quantity>(
    measured.flatMap(({ quantity, position }) => (position === undefined ? [quantity] : [])),
  );
  const computed = computationsAt(known).map(
    ({ gives }): RetiredChannel => ({
      ...{ id: makeChannelId({ placeId, quantity: gives, computed: true }), placeId },
      ...{ quantity: gives, computed: true },
    }),
  );
  return [...measured, ...computed];
};

/** Places that were taken out of use: what was read and written of them can still be looked at. */
export const retiredPlaceRoutes =
  ({ journal, clock }: Parts): FastifyPluginAsync =>
  async (app) => {
    app.get(
      '/retired-places',
      route({
        tag: 'places',
        needs: 'viewer',
        summary: 'Places that were taken out of use, the last one first, with the channels they had',
        answer: listOf(ANSWER),
      }),
      async (): Promise<readonly RetiredPlace[]> =>
        journal.settings
          .retired(PLACE, clock.now())
          .map(({ gone, before }) => {
            const { id, name, kind } = before.body as Place;
            return { id, name, kind, retiredMs: gone.effectiveMs, by: gone.by, channels: channelsAt(journal, id) };
          })
          .sort((a, b) => b.retiredMs - a.retiredMs),
    );
  };
