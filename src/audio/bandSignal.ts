/** A band of the ring: heterodyned, filtered, decimated. */
export interface BandSignal {
  /** Interleaved re, im. */
  readonly samples: Float64Array;
  readonly count: number;
  readonly rateHz: number;
  readonly centreHz: number;
  /** How many neighbouring samples carry the same noise: sample rate over the noise bandwidth of the band filter. */
  readonly correlation: number;
}
