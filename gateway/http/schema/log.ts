import { ENTRY_KIND_NAMES } from '../../../rules/log/entry.js';
import type { Shape } from '../../../rules/log/field.js';
import type { Button, LogLine, NewEntry } from '../../../rules/wire/log.js';
import { WORK_KINDS } from '../../../rules/work.js';
import { anyText, atMs, type JsonSchema, listOf, optional, shape, slug, text, within, wordOf, yesNo } from './shape.js';

/** A field of a form as JSON Schema. */
export const schemaOf = (of: Shape): JsonSchema => {
  switch (of.kind) {
    case 'number':
      return { type: of.whole ? 'integer' : 'number', minimum: of.low, maximum: of.high, description: of.unit };
    case 'text':
      return {
        type: 'string',
        minLength: 1,
        maxLength: of.most,
        ...(of.pattern === undefined ? {} : { pattern: of.pattern.source }),
      };
    case 'choice':
      return wordOf(of.words);
    case 'flag':
      return yesNo;
    case 'list':
      return { ...listOf(schemaOf(of.of)), minItems: of.least, maxItems: of.most };
    case 'fields':
      return {
        type: 'object',
        additionalProperties: false,
        required: Object.entries(of.fields).flatMap(([name, field]) => (field.optional === true ? [] : [name])),
        properties: Object.fromEntries(Object.entries(of.fields).map(([name, field]) => [name, schemaOf(field.shape)])),
      };
  }
};

const ulid = { type: 'string', pattern: '^[0-7][0-9A-HJKMNP-TV-Z]{25}$', description: 'a ULID' } as const;

/** What every entry has, for a list of the API. The rules themselves read a new one, so that every fault has our words. */
const envelope = {
  id: ulid,
  atMs,
  kind: wordOf(ENTRY_KIND_NAMES),
  placeId: optional(slug),
  initials: optional(text(8)),
  corrects: optional({ ...ulid, description: 'the version that it stands for from now on' }),
  note: optional(text(2000)),
  photos: optional(listOf(anyText)),
  fields: { type: 'object', additionalProperties: true, description: 'those of its kind: GET /log/kinds' },
} as const;

const { properties } = shape<NewEntry<'note'>>({ ...envelope }) as { readonly properties: object };
/** Not checked here: `parseEntry` reads it whole and tells every fault at once. */
export const ENTRY: JsonSchema = {
  description: `an entry: ${Object.keys(properties).join(', ')}; \`fields\` are those of its kind (GET /log/kinds)`,
};

const WRITTEN = shape<LogLine['entry']>({ ...envelope, by: anyText } as never);
export const LOG_LINE: JsonSchema = shape<LogLine>({
  entry: WRITTEN,
  recordedMs: atMs,
  replacedBy: optional(ulid),
  struck: optional({ type: 'boolean', const: true }),
});

/** An answer whose shape is rules/wire/log.ts. */
export const ANSWER: JsonSchema = { type: 'object', additionalProperties: true };

const does: JsonSchema = {
  oneOf: [
    shape<Extract<Button['does'], { kind: 'entry' }>>({
      kind: { type: 'string', const: 'entry' },
      placeId: optional(slug),
      entry: wordOf(ENTRY_KIND_NAMES),
      fields: { type: 'object', additionalProperties: true },
    }),
    shape<Extract<Button['does'], { kind: 'work' }>>({
      kind: { type: 'string', const: 'work' },
      placeId: slug,
      work: wordOf(WORK_KINDS),
      minutes: within(1, 10_080),
    }),
  ],
};
export const BUTTON: JsonSchema = shape<Button>({
  id: slug,
  channelId: text(100),
  pressed: wordOf(['on', 'off']),
  does,
});
