/** A JSON Schema (2020-12, as in OpenAPI 3.1). */
export type JsonSchema = { readonly [keyword: string]: unknown };

type Optional = { readonly optional: JsonSchema };

/** A property for every field of T, marked optional exactly where T's is: the compiler holds schema and type together. */
type Fields<T> = {
  readonly [K in keyof T]-?: Record<never, never> extends Pick<T, K>
    ? Optional
    : JsonSchema & { readonly optional?: never };
};

export const optional = (schema: JsonSchema): Optional => ({ optional: schema });

const isOptional = (field: JsonSchema | Optional): field is Optional =>
  'optional' in field && field.optional !== undefined;

/** The closed object schema of T. */
export const shape = <T>(fields: Fields<T>, description?: string): JsonSchema => {
  const entries: readonly (readonly [string, JsonSchema | Optional])[] = Object.entries(fields);
  return {
    type: 'object',
    additionalProperties: false,
    required: entries.filter(([, field]) => !isOptional(field)).map(([name]) => name),
    properties: Object.fromEntries(entries.map(([name, field]) => [name, isOptional(field) ? field.optional : field])),
    ...(description === undefined ? {} : { description }),
  };
};

/**
 * An object that may have each of these words as a key, all with the same schema. The schema stands once, not once a
 * word: the compiled checks of stages, each with every quantity, would take longer than the rest of a start.
 */
/** A schema that stands once and is meant from many places: compiled once, and listed by its name. */
export type SharedSchema = JsonSchema & { readonly $id: string };

export const shared = ($id: string, schema: JsonSchema): SharedSchema => ({ $id, ...schema });
export const refTo = ({ $id }: SharedSchema): JsonSchema => ({ $ref: `${$id}#` });

export const anyOfWords = (words: readonly string[], schema: JsonSchema): JsonSchema => ({
  type: 'object',
  propertyNames: { enum: words },
  additionalProperties: schema,
});

export const listOf = (items: JsonSchema, description?: string): JsonSchema => ({
  type: 'array',
  items,
  ...(description === undefined ? {} : { description }),
});

export const wordOf = (words: readonly string[]): JsonSchema => ({ type: 'string', enum: words });

export const text = (maxLength: number, minLength = 1): JsonSchema => ({ type: 'string', minLength, maxLength });
export const anyText: JsonSchema = { type: 'string' };
export const anyNumber: JsonSchema = { type: 'number' };
export const count: JsonSchema = { type: 'integer', minimum: 0 };
export const yesNo: JsonSchema = { type: 'boolean' };
/** UTC milliseconds. */
export const atMs: JsonSchema = {
  type: 'integer',
  minimum: 0,
  maximum: 253_402_300_799_999,
  description: 'UTC milliseconds since 1970',
};
export const within = (minimum: number, maximum: number): JsonSchema => ({ type: 'number', minimum, maximum });
export const above = (exclusiveMinimum: number, maximum: number): JsonSchema => ({
  type: 'number',
  exclusiveMinimum,
  maximum,
});
export const nullable = (type: string): JsonSchema => ({ type: [type, 'null'] });

/** [ID] of a place, a position: `isPlaceId` in rules/place. */
export const slug: JsonSchema = {
  type: 'string',
  maxLength: 40,
  pattern: '^[a-z0-9]+(?:-[a-z0-9]+)*$',
  description: 'an id: lower-case letters, digits and dashes, as in larva-2',
};
