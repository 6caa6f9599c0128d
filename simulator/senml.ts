import { encode } from 'cborg';
import type { Probe, Quantity } from './probe.js';
import { rounded } from './resolution.js';

/** A SenML record (RFC 8428 section 4), as far as a board needs it. */
export type SenmlRecord = {
  readonly bn?: string;
  readonly bt?: number;
  readonly n?: string;
  readonly u?: string;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly t?: number;
};

/** Integer labels of the CBOR form (RFC 8428 section 6, table 4). */
const LABEL: { readonly [field in keyof SenmlRecord]-?: number } = {
  bn: -2,
  bt: -3,
  n: 0,
  u: 1,
  v: 2,
  vs: 3,
  vb: 4,
  t: 6,
};

type InUnit = { readonly u?: string; readonly by: number };

/**
 * Units that may stand in a version 10 pack (RFC 8428 section 12.1, RFC 8798), and the factor from ours. Practical
 * salinity has none: it is a pure number without a registered name.
 */
const UNIT: { readonly [quantity in Exclude<Quantity, 'contact'>]: InUnit } = {
  temperature: { u: 'Cel', by: 1 },
  conductivity: { u: 'S/m', by: 0.1 },
  salinity: { by: 1 },
  'oxygen-mg-l': { u: 'kg/m3', by: 0.001 },
  'oxygen-saturation': { u: '/', by: 0.01 },
  level: { u: 'm', by: 1 },
  flow: { u: 'm3/s', by: 1 / 60_000 },
};

/** The unit that a record of this quantity states; none for salinity and contacts. */
export const senmlUnit = (quantity: Quantity): string | undefined =>
  quantity === 'contact' ? undefined : UNIT[quantity].u;

/** Unit and value of one reading: our units in, the registered ones out. Contacts are booleans, texts stay texts. */
export const senmlValue = (probe: Probe, value: number | string): SenmlRecord => {
  if (typeof value === 'string') return { vs: value };
  if (probe.quantity === 'contact') return { vb: value === 1 };
  const { u, by } = UNIT[probe.quantity];
  const v = by === 1 ? value : rounded(value * by, probe.resolution * by);
  return u === undefined ? { v } : { u, v };
};

export const makeSenmlJson = (pack: readonly SenmlRecord[]): string => JSON.stringify(pack);

/** A definite-length array of maps with integer keys. */
export const makeSenmlCbor = (pack: readonly SenmlRecord[]): Uint8Array => encode(pack.map(labelled));

const FIELDS = ['bn', 'bt', 'n', 'u', 'v', 'vs', 'vb', 't'] as const;

const labelled = (record: SenmlRecord): Map<number, string | number | boolean> => {
  const labels = new Map<number, string | number | boolean>();
  for (const field of FIELDS) {
    const value = record[field];
    if (value !== undefined) labels.set(LABEL[field], value);
  }
  return labels;
};
