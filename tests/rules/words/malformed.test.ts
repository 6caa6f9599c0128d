import { describe, expect, test } from 'vitest';
import { MALFORMED_CODES, ODDITY_CODES } from '../../../rules/wire/malformed.js';
import { hasMalformedSentence, malformedSentence } from '../../../rules/words/malformed.js';

describe('what is wrong with a message is said', () => {
  test.each([...MALFORMED_CODES, ...ODDITY_CODES])('%s has its sentence', (code) => {
    expect(hasMalformedSentence(code)).toBe(true);
    expect(malformedSentence(code, {})).toMatch(/\.$/);
  });

  test.each([
    [
      'decimal-comma',
      { text: '23,4' },
      '“23,4” has a decimal comma: send a decimal point, as in 23.4. Nothing was guessed, so no reading was taken.',
    ],
    [
      'payload-too-large',
      { bytes: 10_485_760, limit: 65_536 },
      'The message is 10485760 bytes long and the most is 65536: send fewer readings at once. Its first bytes are kept.',
    ],
    [
      'senml-name-missing',
      { record: 2 },
      'Record 2 of the SenML pack has no name: give n, or bn before it (RFC 8428 section 4.5.1).',
    ],
    [
      'unknown-unit',
      { unit: 'furlong' },
      'The unit “furlong” is not known. The reading was taken as it came; choose its unit when you name the source.',
    ],
  ])('%s', (code, parameters, sentence) => {
    expect(malformedSentence(code, parameters)).toBe(sentence);
  });

  test('what a board sent is never read as a place for another parameter', () => {
    expect(malformedSentence('not-a-number', { text: '{limit} $& {text}' })).toContain('“{limit} $& {text}”');
  });

  test('a code from a later version is still said', () => {
    expect(malformedSentence('something-new', {})).toBe('The message could not be read: something-new.');
  });
});
