/** Writes numbers one after another: whole ones from 0 to 2^53 in as many bytes as they need, others in eight. */
export type ByteWriter = {
  byte(value: number): void;
  whole(value: number): void;
  double(value: number): void;
  bytes(value: Uint8Array): void;
  done(): Buffer;
};

export const buildByteWriter = (): ByteWriter => {
  const parts: Uint8Array[] = [];
  return {
    byte: (value) => parts.push(Uint8Array.of(value)),
    whole: (value) => parts.push(Uint8Array.from(bytesOfWhole(value))),
    double: (value) => {
      const eight = Buffer.allocUnsafe(8);
      eight.writeDoubleLE(value);
      parts.push(eight);
    },
    bytes: (value) => parts.push(value),
    done: () => Buffer.concat(parts),
  };
};

/** Seven bits a byte, the lowest first; the top bit says that more follow. */
export const bytesOfWhole = (value: number): readonly number[] => {
  const bytes: number[] = [];
  let rest = value;
  for (; rest >= 128; rest = Math.floor(rest / 128)) bytes.push((rest % 128) + 128);
  bytes.push(rest);
  return bytes;
};

/** Reads what a `ByteWriter` wrote, in the same order. Past the end it throws: the bytes are damaged. */
export type ByteReader = {
  byte(): number;
  whole(): number;
  double(): number;
  bytes(length: number): Buffer;
  rest(): Buffer;
};

export const buildByteReader = (from: Buffer): ByteReader => {
  let at = 0;
  const byte = (): number => {
    at += 1;
    return from.readUInt8(at - 1);
  };
  return {
    byte,
    whole: () => {
      let value = 0;
      for (let scale = 1; ; scale *= 128) {
        const next = byte();
        value += (next % 128) * scale;
        if (next < 128) return value;
      }
    },
    double: () => {
      at += 8;
      return from.readDoubleLE(at - 8);
    },
    bytes: (length) => {
      at += length;
      if (at > from.length) throw new RangeError('Sealed bytes end too early.');
      return from.subarray(at - length, at);
    },
    rest: () => from.subarray(at),
  };
};
