/** Buffers of one shape of problem: `K` components, complex samples. Kept, because a fit is run hundreds of times. */
export interface Workspace {
  readonly K: number;
  /** Complex samples of the problem at hand; the columns may be longer. */
  count: number;
  /** Components at unit amplitude, and orthonormalised. */
  readonly phi: readonly Float64Array[];
  readonly q: readonly Float64Array[];
  /** Upper triangle of the orthonormalisation, complex. */
  readonly r: Float64Array;
  /** Amplitudes, complex. */
  readonly c: Float64Array;
  readonly residual: Float64Array;
  /** Phasor of the glide, and what it was made for. */
  readonly chirp: Float64Array;
  readonly chirpOf: { beta: number; rate: number; sampleRateHz: number; count: number };
  /** Derivative columns, complex: one for each component, then glide and ln of its rate. */
  readonly x: readonly Float64Array[];
  rss: number;
  /** Was the last projection made from closed sums? Then there is no residual. */
  pure: boolean;
}

const spaces: { readonly space: Workspace; readonly capacity: number }[] = [];

export function workspace(count: number, K: number): Workspace {
  const known = spaces[K];
  if (known && known.capacity >= count) {
    known.space.count = count;
    return known.space;
  }
  let capacity = 128;
  while (capacity < count) capacity *= 2;
  const column = () => new Float64Array(2 * capacity);
  const space: Workspace = {
    K,
    count,
    phi: Array.from({ length: K }, column),
    q: Array.from({ length: K }, column),
    r: new Float64Array(2 * K * K),
    c: new Float64Array(2 * K),
    residual: column(),
    chirp: column(),
    chirpOf: { beta: 0, rate: 0, sampleRateHz: 0, count: 0 },
    x: Array.from({ length: K + 2 }, column),
    rss: 0,
    pure: false,
  };
  spaces[K] = { space, capacity };
  return space;
}
