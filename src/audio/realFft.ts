import FFT from 'fft.js';

/** A transform of one size. Not re-entrant: a result is overwritten by the next call on the same instance. */
export interface RealFft {
  readonly size: number;
  /**
   * Spectrum of `size` real samples: interleaved re, im of bins 0..size/2, unscaled.
   * @throws RangeError when `samples` is shorter or longer than `size`.
   */
  forward(samples: Float32Array | Float64Array): Float64Array;
  /**
   * Spectra of two real signals by one complex transform, each as `forward` gives it, into `a` and `b`.
   * @param pair the signals interleaved, `size` of each. @param a, b as long as bins are wanted, two values each, `size` + 2 at most.
   * @throws RangeError when a length is another.
   * @source Press et al. 2007, Numerical Recipes, § 12.3
   */
  forwardPair(pair: Float64Array, a: Float64Array, b: Float64Array): void;
  /**
   * Complex time signal of `size` interleaved complex bins, scaled by 1/size.
   * @throws RangeError when `spectrum` does not hold `size` complex values.
   */
  inverse(spectrum: Float64Array): Float64Array;
  /** Complex spectrum of `size` interleaved complex samples, unscaled. @throws RangeError on another length. */
  complex(samples: Float64Array): Float64Array;
}

const kept = new Map<number, RealFft>();

/**
 * Fourier transform of a power-of-two size, one instance kept per size.
 * The wrapped library gives NaN in silence for a short input, ignores a long one, and leaves rubbish above the middle of a
 * real transform; here a wrong length throws, and only bins 0..size/2 are handed out.
 * @param size samples per transform, a power of two from 4.
 * @throws RangeError for any other size.
 */
export function realFft(size: number): RealFft {
  const known = kept.get(size);
  if (known !== undefined) return known;
  if (!Number.isInteger(size) || size < 4 || (size & (size - 1)) !== 0)
    throw new RangeError(`size is ${size}, expected a power of two from 4`);
  const fft = new FFT(size);
  const out = new Float64Array(2 * size);
  const half = out.subarray(0, size + 2);
  const demand = (what: string, length: number, expected: number) => {
    if (length !== expected) throw new RangeError(`${what} holds ${length} values, expected ${expected}`);
  };
  const made: RealFft = {
    size,
    forward(samples) {
      demand('samples', samples.length, size);
      fft.realTransform(out, samples);
      return half;
    },
    forwardPair(pair, a, b) {
      demand('pair', pair.length, 2 * size);
      if (a.length !== b.length || a.length > size + 2)
        throw new RangeError(`spectra hold ${a.length} and ${b.length} values, expected as many, ${size + 2} at most`);
      fft.transform(out, pair);
      for (let k = 0; k < a.length; k += 2) {
        const m = k === 0 ? 0 : 2 * size - k;
        const re = out[k] as number;
        const im = out[k + 1] as number;
        const mirrorRe = out[m] as number;
        const mirrorIm = out[m + 1] as number;
        a[k] = 0.5 * (re + mirrorRe);
        a[k + 1] = 0.5 * (im - mirrorIm);
        b[k] = 0.5 * (im + mirrorIm);
        b[k + 1] = 0.5 * (mirrorRe - re);
      }
    },
    inverse(spectrum) {
      demand('spectrum', spectrum.length, 2 * size);
      fft.inverseTransform(out, spectrum);
      return out;
    },
    complex(samples) {
      demand('samples', samples.length, 2 * size);
      fft.transform(out, samples);
      return out;
    },
  };
  kept.set(size, made);
  return made;
}
