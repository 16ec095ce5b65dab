/**
 * The contract between the ear (src/audio) and the member (src/physics): types only, importable by every room.
 *
 * The ear hears tones and *proposes* mode numbers; the member *decides* which mode each tone is and what tension it means.
 * Neither room imports the other.
 */
import type { Decibels, Hertz, Newtons, Seconds } from './units.ts';

/** How the spoke was plucked. `inPlane`: along the rim; `across`: along the axle. */
export interface How {
  readonly crossing: 'held' | 'free' | 'none';
  readonly direction: 'inPlane' | 'across' | 'unknown';
}

/** One decaying tone of a pluck. */
export interface Tone {
  /** Frequency in the limit of zero amplitude. */
  readonly frequencyHz: Hertz;
  /** Standard uncertainty (1 σ) of that frequency, of scatter, doublet and model choice together. */
  readonly uHz: Hertz;
  /** Level at the onset, dB relative to full scale. */
  readonly levelDb: Decibels;
  /** Time in which the amplitude falls to 1/e. */
  readonly decayS: Seconds;
  /** Energy of the tone over the noise near it. */
  readonly snrDb: Decibels;
  /** Two close tones of one doublet carry the same number. */
  readonly pairId?: number;
}

/**
 * One way to number the tones: `modes[i]` is the mode of `tones[i]` (1 = fundamental), 0 = not of this spoke.
 * `guess` is true where no member was described and the numbers come from the ratios alone.
 */
export interface Hypothesis {
  readonly modes: readonly number[];
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly score: number;
  readonly guess: boolean;
}

/** What was noticed about a pluck that was nevertheless taken. */
export type HeardFlag =
  | 'firstToneInferred' // the fundamental was not heard; the others imply it
  | 'crossCheckDisagrees' // autocorrelation and Fourier transform give different first tones
  | 'lightlyClipped'
  | 'otherSpokeRinging' // the spoke before, or a neighbour, is still heard
  | 'numberingUncertain' // the runner-up numbering is nearly as good
  | 'humPresent'
  | 'perhapsNoSpoke' // of all its plucks: the tension is then stated with that doubt in it
  | 'shortRing'; // damped early: a hand, a cloth, a mute

/** What the microphone said of itself; a missing value is unknown, not off. */
export interface CaptureSettings {
  readonly sampleRateHz: Hertz;
  readonly echoCancellation?: boolean;
  readonly noiseSuppression?: boolean;
  readonly autoGainControl?: boolean;
  readonly deviceLabel?: string;
}

export interface Heard {
  readonly ok: true;
  /** From the start of the recording or of the listening. */
  readonly onsetS: Seconds;
  readonly sampleRateHz: Hertz;
  /** Ascending in frequency. */
  readonly tones: readonly Tone[];
  /** Covariance of the tones' frequencies, `tones.length` squared, Hz². */
  readonly covarianceHz2: readonly (readonly number[])[];
  /** Best first. Empty only if there is no tone, which is a refusal. */
  readonly hypotheses: readonly Hypothesis[];
  readonly flags: readonly HeardFlag[];
  readonly settings: CaptureSettings;
}

export type Plane = 'inPlane' | 'across';
/** `segment`: crossing to rim; `hub`: hub to crossing; `pair`: both spokes of an open crossing together; `whole`: hub to rim, uncrossed. */
export type Family = 'segment' | 'hub' | 'pair' | 'whole';

/** A tone that the described member would have at an ordinary tension: numbers handed to the ear. */
export interface Expected {
  readonly plane: Plane;
  readonly family: Family;
  /** 1 = the lowest of its family. */
  readonly mode: number;
  readonly frequencyHz: Hertz;
}

/** The expected tones at one tension; the ear is given a ladder of them, ascending in tension. */
export interface ExpectedAtTension {
  readonly tensionN: Newtons;
  /** The same count on every rung; those of a plane ascend in frequency, its families mixed. */
  readonly tones: readonly Expected[];
  /** Covariance of ln frequency over all that the description leaves open at this tension (ends, hold, lengths, …), `tones.length` squared. */
  readonly covariance: readonly (readonly number[])[];
}

/** What one tone was taken for. `mode` 0: foreign, not used. */
export interface Assigned {
  readonly toneIndex: number;
  readonly frequencyHz: Hertz;
  readonly mode: number;
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  /** (heard − modelled) / modelled, in percent; absent for a foreign tone. */
  readonly residualPercent?: number;
  /** Share of this tone in the answer, 0..1. */
  readonly weight: number;
}

/** One input's part of the uncertainty. */
export interface Contribution {
  readonly input: UncertainInput;
  readonly uN: Newtons;
  /** Shared by all spokes of the wheel, or the spoke's own. */
  readonly scope: 'own' | 'common';
}
export type UncertainInput =
  | 'frequency'
  | 'mass'
  | 'length'
  | 'crossing'
  /** How long the spoke's own pieces are: butts, bonded ends, the nipple in view. */
  | 'sections'
  | 'stiffness'
  | 'hubEnd'
  | 'rimEnd'
  /** How much fibre composite gives way in shear. */
  | 'shear'
  | 'numbering'
  | 'model'
  | 'calibration';

export interface Reading {
  readonly ok: true;
  readonly tensionN: Newtons;
  /** Standard uncertainty of what varies from spoke to spoke. */
  readonly uOwnN: Newtons;
  /** Standard uncertainty of what all spokes of the wheel share. */
  readonly uCommonN: Newtons;
  readonly assignment: readonly Assigned[];
  /** How well the tones fit the member: probability of residuals at least this large, 0..1. */
  readonly agreement: number;
  /** Largest first. */
  readonly contributions: readonly Contribution[];
  /** The ear doubted every one of its sounds, and no side of like tensions bears it out; the doubt is in `uOwnN`. */
  readonly doubted?: true;
}

/** Why the ear took no tone from a sound. */
export type HearReason =
  | 'tooSoft'
  | 'clipped'
  | 'muffled'
  | 'hitTwice'
  | 'twoSpokes'
  | 'hum'
  | 'speech'
  | 'music'
  | 'knock'
  | 'freehub'
  | 'rotor'
  | 'squeak'
  | 'firstToneMissing'
  | 'tonesContradict'
  | 'processed' // the system still edits the sound
  | 'rateTooLow'
  | 'cutShort'; // the recording or the stream ends in the pluck

/** Why the member made no tension from the tones. */
export type MeasureReason =
  | 'noTones'
  | 'memberIncomplete'
  | 'memberImpossible'
  | 'belowBendingTone' // lower than the spoke rings with no tension at all
  | 'outOfRange' // outside 20–3000 N
  | 'tonesContradictMember'
  | 'numberingAmbiguous'
  | 'pairOnly'; // only the common tone of an open pair was heard: it tells the mean of two spokes

export interface Refusal<Reason extends string> {
  readonly ok: false;
  readonly reason: Reason;
  /** Which value, in the words of the field, where one is to blame. */
  readonly detail?: string;
}
export type HearRefusal = Refusal<HearReason> & { readonly onsetS: Seconds };
export type MeasureRefusal = Refusal<MeasureReason>;
