import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Versioned } from '../../rules/wire/api.js';
import type { WriteFault } from '../settings.js';
import { refuse } from './faults.js';

const etag = (version: number): string => `"${version}"`;

/** A dated row with its version as ETag. */
export const sendVersioned = <T>(reply: FastifyReply, versioned: Versioned<T>): FastifyReply =>
  reply.header('etag', etag(versioned.version)).send(versioned);

/** The version in If-Match, or the answer that refuses the request. */
export const versionIn = (request: FastifyRequest, reply: FastifyReply): number | FastifyReply => {
  const given = request.headers['if-match'];
  if (given === undefined) return refuse(reply, 'version-missing');
  const digits = /^"(\d{1,9})"$/.exec(given.trim())?.[1];
  return digits === undefined ? refuse(reply, 'version-not-understood', { given }) : Number(digits);
};

/** The answer to a write that was not done. */
export const refuseWrite = (reply: FastifyReply, what: WriteFault): FastifyReply => {
  switch (what.code) {
    case 'version-changed':
      reply.header('etag', etag(what.present));
      return refuse(reply, what.code, { present: what.present });
    case 'settings-conflict':
      return refuse(reply, what.code, { first: what.faults[0]?.detail ?? '' }, what.faults);
    case 'site-id-fixed':
    case 'place-exists':
      return refuse(reply, what.code, { id: what.id });
  }
};
