import { FLAG, type Flag } from './flag.js';

/** What a record must look like: so many characters, bytes written in hexadecimal, or fields between delimiters. */
export type RecordShape = {
  readonly length: number;
  readonly unit: 'characters' | 'hex-bytes';
  readonly delimiter?: string | undefined;
};

/**
 * Syntax over a series of records (QARTOD test 2): a record of another length fails. Half a byte is no byte.
 * The tank rule differs: the intake decodes each payload, and what it cannot read never becomes a reading. So every
 * reading that reaches the other tests has passed this one.
 */
export const syntaxFlags = (records: readonly (string | undefined)[], shape: RecordShape): Flag[] =>
  records.map((record) => {
    if (record === undefined) return FLAG.missing;
    return lengthOf(record, shape) === shape.length ? FLAG.pass : FLAG.fail;
  });

const lengthOf = (record: string, { unit, delimiter }: RecordShape): number => {
  if (delimiter !== undefined) return record.split(delimiter).length;
  return unit === 'characters' ? record.length : record.length / 2;
};
