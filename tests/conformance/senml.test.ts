import { describe, expect, test } from 'vitest';
import { resolveSenml, type SenmlRecord } from '../../gateway/intake/senml.js';
import { parseCborPack } from '../../gateway/intake/senml-cbor.js';
import type { Result } from '../../rules/result.js';
import { type Malformed, malformed } from '../../rules/wire/malformed.js';
import fixture from '../fixtures/senml-packs.json' with { type: 'json' };

type Sample = {
  readonly id: string;
  readonly says: string;
  readonly source: string;
  readonly nowS: number;
  readonly pack?: unknown;
  readonly hex?: string;
  readonly resolved?: readonly Readonly<Record<string, unknown>>[];
  readonly fault?: string;
};

/** The resolved record under the labels of RFC 8428 table 1. */
const makeResolved = (record: SenmlRecord): Readonly<Record<string, unknown>> => {
  const { value } = record;
  return {
    n: record.name,
    t: record.timeS,
    ...record.unknown,
    ...(record.unit === undefined ? {} : { u: record.unit }),
    ...(value?.kind === 'number' ? { v: value.number } : {}),
    ...(value?.kind === 'text' ? { vs: value.text } : {}),
    ...(value?.kind === 'boolean' ? { vb: value.boolean } : {}),
    ...(value?.kind === 'binary' ? { vd: value.base64url } : {}),
    ...(record.sum === undefined ? {} : { s: record.sum }),
    ...(record.updateS === undefined ? {} : { ut: record.updateS }),
    ...(record.version === undefined ? {} : { bver: record.version }),
  };
};

/** Numbers agree within 1e-6 (the tolerance of the fixture), everything else exactly. */
const close = (record: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> =>
  Object.fromEntries(
    Object.entries(record).map(([label, value]) => [
      label,
      typeof value === 'number' ? expect.closeTo(value, 6) : value,
    ]),
  );

const resolve = ({ pack, hex, nowS }: Sample): Result<readonly SenmlRecord[], Malformed> => {
  if (hex === undefined) return resolveSenml(pack, nowS);
  const records = parseCborPack(Buffer.from(hex, 'hex'), 4);
  return records.ok ? resolveSenml(records.value, nowS) : records;
};

const samples: readonly Sample[] = fixture.packs;

describe('SenML packs resolve as RFC 8428 says', () => {
  test('all thirty packs are here', () => {
    expect(samples).toHaveLength(30);
  });

  test.each(samples.filter(({ resolved }) => resolved !== undefined))('$says ($source)', (sample) => {
    const resolved = resolve(sample);
    expect(resolved.ok && resolved.value.map(makeResolved)).toEqual((sample.resolved ?? []).map(close));
  });

  test.each(samples.filter(({ fault }) => fault !== undefined))('$says ($source)', (sample) => {
    const resolved = resolve(sample);
    expect(!resolved.ok && resolved.fault.code).toBe(sample.fault);
  });
});

describe('SenML in CBOR', () => {
  const fromHex = (hex: string) => parseCborPack(Buffer.from(hex, 'hex'), 4);

  test('a decimal fraction is the number that its digits say (RFC 8949 section 3.4.4: 273.15)', () => {
    // [{0: "t", 2: 4([-2, 27315])}]
    expect(fromHex('81a200617402c48221196ab3')).toEqual({ ok: true, value: [{ n: 't', v: 273.15 }] });
  });

  test('an array of indefinite length is read (RFC 8428 section 6)', () => {
    expect(fromHex('9fa200617402187bff')).toEqual({ ok: true, value: [{ n: 't', v: 123 }] });
  });

  test('numbers that are not encoded in the shortest way are read (RFC 8949 section 4.1: it is a preference)', () => {
    expect(fromHex('81a2006174021a0000007b')).toEqual({ ok: true, value: [{ n: 't', v: 123 }] });
  });

  test('binary values come out as base64url without padding (RFC 8428 section 5)', () => {
    expect(fromHex('81a200617408446869200a')).toEqual({ ok: true, value: [{ n: 't', vd: 'aGkgCg' }] });
  });

  test.each([
    ['a label that stands twice', '81a202000201', 'cbor-broken'],
    ['a label that stands twice, once as a number and once as a text', '81a2006161616e6162', 'cbor-broken'],
    ['a pack that was cut short', '81a2006174', 'cbor-broken'],
    ['bytes after the pack', '81a20061740201ff', 'cbor-broken'],
    ['not a number', '81a200617402f97e00', 'cbor-broken'],
    ['infinity', '81a200617402f97c00', 'cbor-broken'],
    ['a tag that nobody knows', '81a200617402c11a00000000', 'cbor-broken'],
  ])('refuses %s', (_what, hex, code) => {
    expect(fromHex(hex)).toMatchObject({ ok: false, fault: { code } });
  });

  test.each([10, 60_000])('refuses %i levels of nesting', (levels) => {
    const nested = Buffer.concat([Buffer.alloc(levels, 0x81), Buffer.from([0x80])]);
    expect(parseCborPack(nested, 4)).toEqual({ ok: false, fault: malformed('too-deep', { limit: 4 }) });
  });
});
