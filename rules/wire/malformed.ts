/** Why a message gave no reading at all: it is counted, kept with its first bytes, and shown per board. */
export const MALFORMED_CODES = [
  'payload-too-large',
  'topic-not-own',
  'topic-not-watched',
  'not-utf8',
  'not-a-number',
  'decimal-comma',
  'number-with-unit',
  'number-not-finite',
  'status-not-understood',
  'json-broken',
  'json-duplicate-key',
  'too-deep',
  'too-many-records',
  'cbor-broken',
  'senml-not-array',
  'senml-pack-empty',
  'senml-record-not-object',
  'senml-must-understand',
  'senml-version',
  'senml-versions-mixed',
  'senml-wrong-type',
  'senml-no-value',
  'senml-several-values',
  'senml-name-missing',
  'senml-name',
] as const;
export type MalformedCode = (typeof MALFORMED_CODES)[number];

/** What was odd about a message whose other readings were taken: counted and shown per board. */
export const ODDITY_CODES = [
  'number-as-text',
  'value-missing',
  'value-not-finite',
  'text-ignored',
  'sum-ignored',
  'time-not-understood',
  'time-not-believed',
  'unknown-quantity',
  'unknown-unit',
  'unit-not-senml',
  'percent-is-ratio',
] as const;
export type OddityCode = (typeof ODDITY_CODES)[number];

export type Malformed<Code = MalformedCode> = {
  readonly code: Code;
  /** Canonical parameters of the sentence. */
  readonly parameters: Readonly<Record<string, string | number>>;
};

export const malformed = <Code extends MalformedCode | OddityCode>(
  code: Code,
  parameters: Readonly<Record<string, string | number>> = {},
): Malformed<Code> => ({ code, parameters });
