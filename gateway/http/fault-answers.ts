import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { FaultVerb } from '../../rules/alerts/answer.js';
import type { LinkAnswerBody, LinkPicture } from '../../rules/wire/waking.js';
import type { LinkClaim } from '../alerts/answer-link.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import { BY_ID, type ById, route } from './route.js';
import { listOf, shape, text } from './schema/shape.js';
import {
  type AnswerBody,
  FAULT_ANSWER,
  FAULT_PICTURE,
  LINK_ANSWER,
  LINK_PICTURE,
  STORY_LINE,
} from './schema/waking.js';
import type { WakingRouteParts } from './waking-parts.js';

const SUMMARY: { readonly [verb in FaultVerb]: string } = {
  going: 'I am going; back word within the minutes given',
  there: 'I am here',
  'pass-on': 'Not mine: ask the next, or the person named, to take it',
  safe: 'I have left, and I am well',
};
const VERBS = Object.keys(SUMMARY) as FaultVerb[];

/** Faults that people are woken for, and what a person answers: signed in, or by the signed link of a message. */
export const faultAnswerRoutes =
  ({ alerts, desk, story }: Pick<WakingRouteParts, 'alerts' | 'desk' | 'story'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'waking';
    app.get(
      '/faults',
      route({
        tag,
        needs: 'viewer',
        summary: 'What people are being woken for, and who has it',
        answer: listOf(FAULT_PICTURE),
      }),
      async () => alerts.faults(),
    );

    app.get<{ Params: ById }>(
      '/faults/:id/story',
      route({
        tag,
        needs: 'viewer',
        summary: 'Every call and answer of one fault, in order',
        params: BY_ID,
        answer: listOf(STORY_LINE),
      }),
      async ({ params: { id } }) => story(id),
    );

    const answer = (
      reply: FastifyReply,
      faultId: string,
      by: string,
      verb: FaultVerb,
      body: AnswerBody,
    ): FastifyReply => {
      const { minutes, to } = body;
      const done = alerts.answer(faultId, {
        verb,
        by,
        ...(minutes === undefined ? {} : { minutes }),
        ...(to === undefined ? {} : { to }),
      });
      return done.ok ? reply.send(done.value) : refuse(reply, done.fault.code, { id: to ?? by });
    };
    const lookOf = ({ faultId, personId }: LinkClaim): LinkPicture => {
      const fault = alerts.fault(faultId);
      return {
        person: desk.person(personId)?.body.name ?? personId,
        ...alerts.headline(faultId),
        ...(fault === undefined ? {} : { fault }),
        numbers: desk.numbers().filter((one) => one.personId !== personId),
      };
    };
    const personBehind = (request: FastifyRequest): string | undefined => {
      const { by } = request.body as AnswerBody;
      return by ?? desk.personOf(callerOf(request).name)?.id;
    };
    for (const verb of VERBS) {
      app.post<{ Params: ById; Body: AnswerBody }>(
        `/faults/:id/${verb}`,
        route({ tag, needs: 'crew', summary: SUMMARY[verb], params: BY_ID, body: FAULT_ANSWER, answer: FAULT_PICTURE }),
        async (request, reply) => {
          const by = personBehind(request);
          if (by === undefined) return refuse(reply, 'not-a-person', { name: callerOf(request).name });
          return answer(reply, request.params.id, by, verb, request.body);
        },
      );
    }
    app.get<{ Querystring: { readonly token: string } }>(
      '/answers',
      route({
        tag,
        needs: 'nothing',
        summary: 'What the holder of a signed link sees before they answer: how it stands now, and whom to telephone',
        querystring: shape<{ readonly token: string }>({ token: text(2_000) }),
        answer: LINK_PICTURE,
      }),
      async ({ query: { token } }, reply) => {
        const claim = alerts.readLink(token);
        return claim === undefined ? refuse(reply, 'link-not-good') : lookOf(claim);
      },
    );
    app.post<{ Body: LinkAnswerBody }>(
      '/answers',
      route({
        tag,
        needs: 'nothing',
        summary: 'Answer by the signed link of a message: one fault, one person, for a few hours',
        body: LINK_ANSWER,
        answer: FAULT_PICTURE,
      }),
      async ({ body: { token, verb, minutes } }, reply) => {
        const claim = alerts.readLink(token);
        if (claim === undefined) return refuse(reply, 'link-not-good');
        return answer(reply, claim.faultId, claim.personId, verb, minutes === undefined ? {} : { minutes });
      },
    );
  };
