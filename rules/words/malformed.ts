import { QUANTITIES } from '../quantity.js';
import type { MalformedCode, OddityCode } from '../wire/malformed.js';

/** What is wrong, where, and how to mend it; `{name}` stands for a parameter. */
const SENTENCES: { readonly [code in MalformedCode | OddityCode]: string } = {
  'payload-too-large':
    'The message is {bytes} bytes long and the most is {limit}: send fewer readings at once. Its first bytes are kept.',
  'topic-not-own':
    'The board {board} published to {topic}: a board may publish only below boards/{board}/ and tanks/. Correct the topic, or give the other board its own password.',
  'topic-not-watched':
    'Nobody listens to the topic {topic}: publish to tanks/(tank)/(quantity) or below boards/(board)/, or add the topic to the subscriptions.',
  'not-utf8': 'The message is neither text in UTF-8 nor SenML in CBOR: send a number, JSON or SenML.',
  'not-a-number': '“{text}” is not a number: send digits only, as in 23.4.',
  'decimal-comma':
    '“{text}” has a decimal comma: send a decimal point, as in 23.4. Nothing was guessed, so no reading was taken.',
  'number-with-unit':
    '“{text}” has something after the number: send digits only, as in 23.4. The unit is chosen when the source is named.',
  'number-not-finite':
    '“{text}” is not a number that can be measured: the board or its probe failed to read. Send nothing when there is no value.',
  'status-not-understood': '“{text}” is no status of a board: send online or offline, retained.',
  'json-broken':
    'The message begins as JSON and is broken: “{text}”. Often a text is not closed, the message was cut short by a small buffer in the board, or nan was written for a failed probe.',
  'json-duplicate-key': 'The key “{key}” stands twice in one JSON object: which of the two counts cannot be known.',
  'too-deep': 'The message is nested deeper than {limit} levels: send a flat object.',
  'too-many-records': 'The message holds {records} values and the most is {limit}: send fewer at once.',
  'cbor-broken': 'The message begins as CBOR and is broken ({reason}): check the encoder, or send JSON.',
  'senml-not-array': 'A SenML pack is an array of records (RFC 8428 section 5): put it in [ ].',
  'senml-pack-empty': 'The SenML pack holds no record (RFC 8428 section 3).',
  'senml-record-not-object': 'Record {record} of the SenML pack is not an object (RFC 8428 section 5).',
  'senml-must-understand':
    'Record {record} of the SenML pack has the field “{field}”, which by its last letter “_” must be understood and is not (RFC 8428 section 4.4).',
  'senml-version': 'The SenML pack is of version {version}; versions to 10 are understood (RFC 8428 section 4.4).',
  'senml-versions-mixed':
    'Record {record} of the SenML pack has another version than those before (RFC 8428 section 4.4).',
  'senml-wrong-type':
    'The field “{field}” in record {record} of the SenML pack is of the wrong type (RFC 8428 section 4): a number stands without quotation marks.',
  'senml-no-value': 'Record {record} of the SenML pack has no value: give v, vs, vb, vd or s (RFC 8428 section 4.2).',
  'senml-several-values': 'Record {record} of the SenML pack has more than one value (RFC 8428 section 4.2).',
  'senml-name-missing':
    'Record {record} of the SenML pack has no name: give n, or bn before it (RFC 8428 section 4.5.1).',
  'senml-name':
    'The name “{name}” in record {record} of the SenML pack is not allowed: letters, digits and - : . / _ only, a letter or digit first, no blanks (RFC 8428 section 4.5.1).',

  'number-as-text': 'The number at {where} is written as a text. It was taken; better send it without quotation marks.',
  'value-missing': 'There is no value at {where} (null): no reading was taken from it.',
  'value-not-finite': 'The value at {where} is too large for a number: no reading was taken from it.',
  'text-ignored': 'The value at {where} is a text or binary: it was not taken as a reading.',
  'sum-ignored': 'The running sum of {where} was not taken: only values are read.',
  'time-not-understood':
    'The time “{text}” is not understood: the time of arrival was used. Send seconds or milliseconds since 1970, or ISO 8601 with its zone, as in 2030-05-01T03:05:00Z.',
  'time-not-believed':
    'The board says that it measured at {time}, more than seven days before the message came or more than a minute after: the time of arrival was used. Set the clock of the board, or send no time.',
  'unknown-quantity': `The last part of the topic, “{word}”, is no known quantity. The reading was taken and waits to be named; known are ${QUANTITIES.join(', ')}.`,
  'unknown-unit':
    'The unit “{unit}” is not known. The reading was taken as it came; choose its unit when you name the source.',
  'unit-not-senml':
    'The unit “{unit}” is not one that SenML allows in a pack (RFC 8428 section 12.1). The reading was taken in that unit.',
  'percent-is-ratio':
    'The unit “%” means a ratio in SenML: 0.98, not 98 (RFC 8428 section 12.1). The reading was taken as a ratio; “/” says it without doubt.',
};

/** Why a message gave no reading, or what was odd about it, as an English sentence. */
export const malformedSentence = (code: string, parameters: Readonly<Record<string, string | number>>): string => {
  const sentence = hasMalformedSentence(code) ? SENTENCES[code] : `The message could not be read: ${code}.`;
  return sentence.replace(/\{(\w+)\}/g, (blank, name: string) => String(parameters[name] ?? blank));
};

export const hasMalformedSentence = (code: string): code is MalformedCode | OddityCode =>
  Object.hasOwn(SENTENCES, code);
