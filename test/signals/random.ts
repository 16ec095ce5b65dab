/** Seeded pseudo-random numbers: the same seed gives the same sound on every machine. */
export interface Random {
  /** Uniform in [low, high); default [0, 1). */
  uniform(low?: number, high?: number): number;
  /** Uniform in the logarithm, between two positive numbers. */
  logUniform(low: number, high: number): number;
  /** Normal (polar Box–Muller). */
  normal(mean?: number, standardDeviation?: number): number;
  /** Whole number, low ≤ n ≤ high. */
  integer(low: number, high: number): number;
  /** True with the given probability. */
  chance(probability: number): boolean;
  /** −1 or +1. */
  sign(): number;
  pick<T>(from: readonly T[]): T;
  /** An independent stream that depends on the seed and the label only, not on what was drawn before. */
  fork(label: string | number): Random;
}

/** 32-bit hash of a text: FNV-1a with a final avalanche. @source Fowler, Noll & Vo (1991); Appleby, MurmurHash3 finaliser (2011) */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/**
 * A stream of random numbers from a seed. Generator: sfc32 (128 bits of state), seeded by hashing the label, first 12 outputs discarded.
 * @source Doty-Humphrey, PractRand (2010), sfc32
 */
export function seededRandom(seed: string | number): Random {
  const label = String(seed);
  let a = hash(`${label}|a`);
  let b = hash(`${label}|b`);
  let c = hash(`${label}|c`);
  let counter = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + t;
    c |= 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 12; i++) next();
  let spare: number | undefined;
  const random: Random = {
    uniform: (low = 0, high = 1) => low + (high - low) * next(),
    logUniform: (low, high) => low * (high / low) ** next(),
    normal: (mean = 0, standardDeviation = 1) => {
      if (spare !== undefined) {
        const z = spare;
        spare = undefined;
        return mean + standardDeviation * z;
      }
      for (;;) {
        const u = 2 * next() - 1;
        const v = 2 * next() - 1;
        const s = u * u + v * v;
        if (s > 0 && s < 1) {
          const m = Math.sqrt((-2 * Math.log(s)) / s);
          spare = v * m;
          return mean + standardDeviation * u * m;
        }
      }
    },
    integer: (low, high) => low + Math.floor(next() * (high - low + 1)),
    chance: (probability) => next() < probability,
    sign: () => (next() < 0.5 ? -1 : 1),
    pick: (from) => {
      const chosen = from[Math.floor(next() * from.length)];
      if (chosen === undefined) throw new RangeError('pick from an empty list');
      return chosen;
    },
    fork: (child) => seededRandom(`${label}/${child}`),
  };
  return random;
}
