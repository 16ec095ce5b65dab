/** The sound of one pluck by frequency, with what was taken from it and what the described spoke predicts. */
export interface SpectrumPicture {
  /** The axis lies no lower, dB: what is under it is no sound. Absent: the highest level is the top, whatever it is. */
  readonly floorDb?: number;
  /** Ascending in frequency; levels in dB of any reference. */
  readonly curve: readonly { readonly frequencyHz: number; readonly levelDb: number }[];
  /** Tones that the ear took. `mode` 0: heard, not used. */
  readonly tones: readonly { readonly frequencyHz: number; readonly levelDb?: number; readonly mode: number }[];
  /** Where the described spoke has its partials at the tension that was found. */
  readonly predicted: readonly { readonly frequencyHz: number; readonly mode: number }[];
}
