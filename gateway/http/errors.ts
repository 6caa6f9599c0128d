import type { ErrorObject } from 'ajv';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { settingLabel } from '../../rules/words/setting-field.js';
import { refuse } from './faults.js';
import { type Fault, faultsFrom } from './mend.js';
import type { AppParts } from './parts.js';

const WHERE: Readonly<Record<string, string>> = {
  body: '',
  params: 'In the address: ',
  querystring: 'In the address: ',
  headers: 'In the headers: ',
};

/** With the name that the field has in its form. */
const named = ({ pointer, detail }: Fault): Fault => {
  const label = settingLabel(pointer);
  return { pointer, detail: label === undefined ? detail : `${label}: ${detail}` };
};

const refuseInvalid = (reply: FastifyReply, error: FastifyError): FastifyReply => {
  // Our validators are ajv's, so its errors are whole here; Fastify types them as the few fields that it needs.
  const faults = faultsFrom((error.validation ?? []) as unknown as readonly ErrorObject[]).map(named);
  const [first] = faults;
  const where = WHERE[error.validationContext ?? ''] ?? '';
  return refuse(reply, 'request-not-understood', { first: `${where}${first?.detail ?? error.message}` }, faults);
};

/** Every answer that is not a success is a problem of ours: one table, one place. */
export const useErrors = (app: FastifyInstance, { complain }: Pick<AppParts, 'complain'>): void => {
  app.setErrorHandler((error: FastifyError, request: FastifyRequest, reply) => {
    if (error.validation !== undefined) return refuseInvalid(reply, error);
    switch (error.code) {
      case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
        return refuse(reply, 'media-type-unknown', { type: request.headers['content-type'] ?? 'none' });
      case 'FST_ERR_CTP_BODY_TOO_LARGE':
        return refuse(reply, 'body-too-large', { limit: request.routeOptions.bodyLimit });
      case 'FST_ERR_CTP_INVALID_JSON_BODY':
      case 'FST_ERR_CTP_INVALID_CONTENT_LENGTH':
        return refuse(reply, 'body-not-json', { reason: error.message });
      case 'FST_ERR_BAD_URL':
        return refuse(reply, 'request-not-understood', { first: 'the address is not written as an address.' });
    }
    if (error instanceof SyntaxError) return refuse(reply, 'body-not-json', { reason: error.message });
    complain(`${request.method} ${request.routeOptions.url ?? request.url} (request ${request.id})`, error);
    return refuse(reply, 'broken');
  });
};

/** JSON only; an empty body is no body. Forms and plain text, which other pages could send, are not taken. */
export const useBodies = (app: FastifyInstance): void => {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (_request, text, done) => {
    if (text === '') return done(null, undefined);
    try {
      done(null, JSON.parse(String(text)) as unknown);
    } catch (error) {
      done(error as SyntaxError, undefined);
    }
  });
  // A missing body is an empty object, so that every missing field is told by name.
  app.addHook('preValidation', async (request) => {
    const mayHaveBody = request.method === 'POST' || request.method === 'PUT';
    if (mayHaveBody && request.body === undefined) request.body = {};
  });
};
