/**
 * Seeded chance. Everything random in the simulator hangs on a seed and a label, or on a seed and a moment, never on how
 * often something else has drawn: adding a tank or a probe leaves the night of all the others as it was.
 */
export type Random = {
  /** From `low` to `high`, the latter excluded. */
  readonly uniform: (low: number, high: number) => number;
  readonly normal: (mean: number, deviation: number) => number;
  readonly chance: (share: number) => boolean;
  /** One of the list; throws on an empty one, which is our own mistake. */
  readonly pick: <T>(list: readonly T[]) => T;
  /** A generator of its own for `label`, the same whatever was drawn before. */
  readonly fork: (label: string) => Random;
};

const TWO_TO_32 = 4_294_967_296;

/** Spreads every input bit over all 32 output bits (the finishing step of MurmurHash3, public domain). */
const spread = (bits: number): number => {
  let h = bits;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
};

/** The seed of `label` under `seed`: FNV-1a over the label, then spread. */
export const seedFrom = (seed: number, label: string): number => {
  let h = (0x811c9dc5 ^ spread(seed)) >>> 0;
  for (let i = 0; i < label.length; i++) h = Math.imul(h ^ label.charCodeAt(i), 0x01000193);
  return spread(h);
};

/** Evenly spread in [0, 1) for this seed and this whole number (a moment, a counter): no state at all. */
export const uniformAt = (seed: number, at: number): number =>
  spread(spread(seed ^ (at | 0)) ^ Math.floor(at / TWO_TO_32) ^ 0x9e3779b9) / TWO_TO_32;

/** A standard normal deviate for this seed and this whole number (Box and Muller 1958). */
export const normalAt = (seed: number, at: number): number => normalFrom(uniformAt(seed, at), uniformAt(~seed, at));

/**
 * A smooth curve in [-1, 1] that wanders with the given period: random heights at whole multiples of it, joined by
 * smoothstep. The same at every moment whatever the step with which time advances.
 */
export const wanderAt = (seed: number, atMs: number, periodMs: number): number => {
  const knot = Math.floor(atMs / periodMs);
  const share = atMs / periodMs - knot;
  const from = 2 * uniformAt(seed, knot) - 1;
  const to = 2 * uniformAt(seed, knot + 1) - 1;
  return from + (to - from) * share * share * (3 - 2 * share);
};

export const randomFrom = (seed: number): Random => {
  const next = sequence(seed);
  return {
    uniform: (low, high) => low + (high - low) * next(),
    normal: (mean, deviation) => mean + deviation * normalFrom(next(), next()),
    chance: (share) => next() < share,
    pick: (list) => {
      const one = list[Math.floor(next() * list.length)];
      if (one === undefined) throw new Error('pick from an empty list');
      return one;
    },
    fork: (label) => randomFrom(seedFrom(seed, label)),
  };
};

/** `1 - a` keeps the logarithm away from zero. */
const normalFrom = (a: number, b: number): number => Math.sqrt(-2 * Math.log(1 - a)) * Math.cos(2 * Math.PI * b);

/** sfc32 (Chris Doty-Humphrey, public domain): small, fast, passes the usual batteries; twelve turns to warm up. */
const sequence = (seed: number): (() => number) => {
  let a = spread(seed);
  let b = spread(a ^ 0x9e3779b9);
  let c = spread(b ^ 0x243f6a88);
  let count = 1;
  const next = (): number => {
    const sum = (a + b + count) | 0;
    count = (count + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return (sum >>> 0) / TWO_TO_32;
  };
  for (let i = 0; i < 12; i++) next();
  return next;
};
