import type { ErrorObject } from 'ajv';
import type { Problem } from '../../rules/wire/api.js';
import { didYouMean } from '../nearest.js';

export type Fault = NonNullable<Problem['faults']>[number];

const plural = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

const escaped = (key: string): string => key.replaceAll('~', '~0').replaceAll('/', '~1');

const shown = (value: unknown): string => {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

const TYPES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  object: 'an object with named fields',
  array: 'a list',
  null: 'null',
};

const knownFields = (parent: unknown): readonly string[] =>
  typeof parent === 'object' && parent !== null ? Object.keys(parent) : [];

const unknownName = (name: string, known: readonly string[]): string =>
  `“${name}” is not known here.${didYouMean(name, known)} Take it away, or use one of: ${known.join(', ')}.`;

/** How to mend it, by the word of JSON Schema that was broken. `parentSchema` needs ajv's `verbose`. */
const SENTENCES: Readonly<Record<string, (error: ErrorObject) => string>> = {
  additionalProperties: ({ params, parentSchema }) =>
    unknownName(String(params.additionalProperty), knownFields(parentSchema?.properties)),
  propertyNames: ({ params, parentSchema }) =>
    unknownName(String(params.propertyName), parentSchema?.propertyNames.enum ?? []),
  required: ({ params }) => `“${params.missingProperty}” is missing: add it.`,
  type: ({ params, data }) => {
    const types = [params.type].flat().map((type) => TYPES[String(type)] ?? String(type));
    return `${shown(data)} must be ${types.join(' or ')}.`;
  },
  enum: ({ params, data }) => {
    const allowed = (params.allowedValues as readonly unknown[]).map(String);
    const near = typeof data === 'string' ? didYouMean(data, allowed) : '';
    return `${shown(data)} is not one of ${allowed.join(', ')}.${near}`;
  },
  const: ({ params, data }) => `${shown(data)} must be ${shown(params.allowedValue)}.`,
  minimum: ({ params, data }) => `${shown(data)} is too small: at least ${params.limit}.`,
  maximum: ({ params, data }) => `${shown(data)} is too large: at most ${params.limit}.`,
  exclusiveMinimum: ({ params, data }) => `${shown(data)} is too small: it must be above ${params.limit}.`,
  exclusiveMaximum: ({ params, data }) => `${shown(data)} is too large: it must be below ${params.limit}.`,
  minLength: ({ params, data }) =>
    `${shown(data)} is too short: at least ${plural(Number(params.limit), 'character')}.`,
  maxLength: ({ params, data }) => `${shown(data)} is too long: at most ${plural(Number(params.limit), 'character')}.`,
  minItems: ({ params }) => `The list is too short: at least ${params.limit}.`,
  maxItems: ({ params }) => `The list is too long: at most ${params.limit}.`,
  pattern: ({ data, parentSchema }) =>
    `${shown(data)} is not ${parentSchema?.description ?? 'written as it should be'}.`,
  oneOf: ({ parentSchema }) => `It must be exactly one of: ${alternatives(parentSchema?.oneOf)}.`,
};

const alternatives = (schemas: unknown): string =>
  Array.isArray(schemas) ? schemas.map((schema) => knownFields(schema?.properties).join(' with ')).join('; or ') : '';

const pointerOf = ({ instancePath, keyword, params }: ErrorObject): string => {
  const key = keyword === 'required' ? params.missingProperty : (params.additionalProperty ?? params.propertyName);
  return key === undefined ? instancePath : `${instancePath}/${escaped(String(key))}`;
};

/**
 * What a schema found wrong, each with its RFC 6901 pointer and how to mend it. Where one of several shapes was asked
 * for, the faults inside each shape are left out: the person meant one of them, and we cannot know which.
 */
export const faultsFrom = (errors: readonly ErrorObject[]): readonly Fault[] => {
  const choices = errors.filter(({ keyword }) => keyword === 'oneOf').map(({ schemaPath }) => schemaPath);
  const told = errors.filter(
    ({ schemaPath, propertyName }) =>
      // A name that is not allowed is told once, by its object.
      propertyName === undefined && !choices.some((choice) => schemaPath.startsWith(`${choice}/`)),
  );
  return told.map((error) => ({
    pointer: pointerOf(error),
    detail: SENTENCES[error.keyword]?.(error) ?? `It breaks the rule “${error.keyword}” of its schema.`,
  }));
};
