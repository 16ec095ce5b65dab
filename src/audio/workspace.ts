/** Buffers of one shape of problem: `count` complex samples, `K` components. Kept, because a fit is run hundreds of times. */
export interface Workspace {
  readonly K: number;
  readonly count: number;
  /** Components at unit amplitude, and orthonormalised. */
  readonly phi: readonly Float64Array[];
  readonly q: readonly Float64Array[];
  /** Upper triangle of the orthonormalisation, complex. */
  readonly r: Float64Array;
  /** Amplitudes, complex. */
  readonly c: Float64Array;
  readonly residual: Float64Array;
  /** Phasor of the glide. */
  readonly chirp: Float64Array;
  /** Derivative columns, complex: one for each component, then glide and ln of its rate. */
  readonly x: readonly Float64Array[];
  rss: number;
  /** Was the last projection made from closed sums? Then there is no residual. */
  pure: boolean;
}

const spaces = new Map<number, Workspace>();

export function workspace(count: number, K: number): Workspace {
  const key = count * 16 + K;
  const known = spaces.get(key);
  if (known) return known;
  if (spaces.size > 64) spaces.clear();
  const column = () => new Float64Array(2 * count);
  const made: Workspace = {
    K,
    count,
    phi: Array.from({ length: K }, column),
    q: Array.from({ length: K }, column),
    r: new Float64Array(2 * K * K),
    c: new Float64Array(2 * K),
    residual: column(),
    chirp: column(),
    x: Array.from({ length: K + 2 }, column),
    rss: 0,
    pure: false,
  };
  spaces.set(key, made);
  return made;
}
