import { Ajv, type ValidateFunction } from 'ajv';
import type { FastifyInstance, FastifySchemaCompiler } from 'fastify';
import { SHARED_SCHEMAS } from './schema/place.js';

const OPTIONS = {
  allErrors: true,
  verbose: true,
  strict: true,
  allowUnionTypes: true,
  // A shared schema is compiled once; put into each of some hundred places it made seconds and a gigabyte of code.
  inlineRefs: false,
  removeAdditional: false,
} as const;

/** Bodies are taken as they are: "12" is a text, never twelve. */
export const buildBodyAjv = (): Ajv => new Ajv({ ...OPTIONS, coerceTypes: false });

/** Addresses hold only text: there "12" is twelve. */
const buildAddressAjv = (): Ajv => new Ajv({ ...OPTIONS, coerceTypes: true, useDefaults: true });

/**
 * Unknown fields are refused, every fault is told, and nothing is mended silently. Answers are written as they are:
 * a schema that drops what it does not know would hide our own mistakes.
 */
export const useValidation = (app: FastifyInstance): void => {
  const [bodies, addresses] = [buildBodyAjv(), buildAddressAjv()];
  for (const schema of SHARED_SCHEMAS) {
    app.addSchema(schema);
    bodies.addSchema(schema);
    addresses.addSchema(schema);
  }
  const compile: FastifySchemaCompiler<Parameters<Ajv['compile']>[0]> = ({ schema, httpPart }): ValidateFunction =>
    (httpPart === 'body' ? bodies : addresses).compile(schema);
  app.setValidatorCompiler(compile);
  app.setSerializerCompiler(() => (answer) => JSON.stringify(answer));
};
