import { fault, ok, type Result } from '../../rules/result.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import { type Decoded, excerpt, type Parcel, refused } from './decoded.js';

const BLANKS = /^[ \t\r\n]+|[ \t\r\n]+$/g;
const NUMBER = /^-?\d+(\.\d+)?([eE][+-]?\d+)?$/;
const DECIMAL_COMMA = /^-?\d+,\d+$/;
const NUMBER_WITH_MORE = /^-?\d+(\.\d+)?\s*[^\d\s.,+-]/;
const WORDS_FOR_FAILED = /^[+-]?(nan|inf|infinity)$/i;

/** A number as boards write it. The whole text must be one, blanks around it apart; anything else is refused, not guessed. */
export const parseNumber = (sent: string): Result<number, Malformed> => {
  const text = sent.replace(BLANKS, '');
  if (!NUMBER.test(text)) return fault(malformed(codeFor(text), { text: excerpt(text) }));
  const value = Number(text);
  if (!Number.isFinite(value)) return fault(malformed('number-not-finite', { text: excerpt(text) }));
  return ok(plain(value));
};

/** A payload that is one bare number: the topic says the rest. */
export const decodeNumber = (text: string, { topic, board }: Parcel): Decoded => {
  const number = parseNumber(text);
  if (!number.ok) return refused(number.fault.code, number.fault.parameters);
  const item = { key: topic, topic, raw: number.value, ...(board === undefined ? {} : { board }) };
  return { kind: 'readings', items: [item], oddities: [] };
};

/** Minus zero is zero: equal readings must be the same reading. */
export const plain = (value: number): number => (value === 0 ? 0 : value);

const codeFor = (text: string): Malformed['code'] => {
  if (WORDS_FOR_FAILED.test(text)) return 'number-not-finite';
  if (DECIMAL_COMMA.test(text)) return 'decimal-comma';
  return NUMBER_WITH_MORE.test(text) && !/^-?0[xX]/.test(text) ? 'number-with-unit' : 'not-a-number';
};
