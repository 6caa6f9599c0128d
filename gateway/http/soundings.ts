import type { FastifyPluginAsync } from 'fastify';
import type { Soundings, SoundingsAsked } from '../../rules/wire/soundings.js';
import { buildAskSoundings, LONGEST_DAYS } from '../soundings/soundings.js';
import { refuse } from './faults.js';
import type { AppParts } from './parts.js';
import { BY_ID, type ById, route } from './route.js';
import { PLACE } from './schema/place.js';
import { atMs, type JsonSchema, refTo, shape } from './schema/shape.js';

const ASKED: JsonSchema = shape<SoundingsAsked>({ fromMs: atMs, toMs: atMs, place: refTo(PLACE) });
const ANSWER: JsonSchema = { type: 'object', additionalProperties: true };

/** "How often would this have woken us": recorded readings under other lines. */
export const soundingsRoutes = (parts: Pick<AppParts, 'journal' | 'log' | 'clock'>): FastifyPluginAsync => {
  const ask = buildAskSoundings(parts);
  return async (app) => {
    app.post<{ Params: ById; Body: SoundingsAsked }>(
      '/places/:id/soundings',
      route({
        tag: 'places',
        needs: 'crew',
        summary:
          'What recorded readings would have sounded with these lines, and with those set now; nothing is changed',
        params: BY_ID,
        body: ASKED,
        answer: ANSWER,
      }),
      async ({ params: { id }, body }, reply): Promise<Soundings | typeof reply> => {
        const answer = await ask({ ...body, place: { ...body.place, id } });
        return answer.ok ? answer.value : refuse(reply, answer.fault, { id, days: LONGEST_DAYS });
      },
    );
  };
};
