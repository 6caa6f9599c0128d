import { constants, deflateRawSync, inflateRawSync } from 'node:zlib';
import { buildByteReader, bytesOfWhole } from './bytes.js';

/** A number of this size and more has this byte in its place, and the rest of it after all the others. */
const ESCAPE = 255;

/** About how many bytes `packed` will need: the entropy of the single bytes, which its Huffman code comes close to. */
export const packedSize = (misses: Float64Array): number => {
  const counts = new Float64Array(ESCAPE + 1);
  let tail = 0;
  for (const miss of misses) {
    if (miss >= ESCAPE) tail += bytesOfWhole(miss - ESCAPE).length;
    const byte = Math.min(miss, ESCAPE);
    counts[byte] = (counts[byte] ?? 0) + 1;
  }
  const bits = counts.reduce((sum, count) => (count === 0 ? sum : sum - count * Math.log2(count / misses.length)), 0);
  return bits / 8 + tail;
};

/** Whole numbers from 0 on, small ones most of all. Noise is smallest by Huffman alone, what repeats itself by both. */
export const packed = (misses: Float64Array): Buffer => {
  const plain = Buffer.allocUnsafe(misses.length);
  const tail: number[] = [];
  for (let n = 0; n < misses.length; n += 1) {
    const miss = misses[n] ?? 0;
    plain[n] = Math.min(miss, ESCAPE);
    if (miss >= ESCAPE) tail.push(...bytesOfWhole(miss - ESCAPE));
  }
  return deflated(tail.length === 0 ? plain : Buffer.concat([plain, Uint8Array.from(tail)]));
};

/** The inverse of `packed`. */
export const unpacked = (bytes: Uint8Array, length: number): Float64Array => {
  const plain = inflateRawSync(bytes);
  if (plain.length < length) throw new RangeError('Sealed bytes end too early.');
  const misses = new Float64Array(length);
  const tail = buildByteReader(plain.subarray(length));
  for (let n = 0; n < length; n += 1) {
    const byte = plain[n] ?? 0;
    misses[n] = byte < ESCAPE ? byte : ESCAPE + tail.whole();
  }
  return misses;
};

/** The smaller of the two ways. */
export const deflated = (plain: Uint8Array): Buffer => {
  const both = deflateRawSync(plain, { level: 9, memLevel: 9 });
  const huffman = deflateRawSync(plain, { memLevel: 9, strategy: constants.Z_HUFFMAN_ONLY });
  return huffman.length < both.length ? huffman : both;
};
