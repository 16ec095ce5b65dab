import type { Heard, HearRefusal, Hypothesis } from '../contract.ts';
import { type HearOptions, hear } from './hear.ts';
import { ringCurve } from './ringCurve.ts';

/** What a picture of one pluck needs, as plain arrays. */
export interface Explained {
  readonly heard: Heard | HearRefusal;
  readonly waveform: { readonly sampleRateHz: number; readonly samples: Float32Array; readonly onsetIndex: number };
  /** Highest level in each of some hundred equal bands, ascending. */
  readonly spectrum: readonly { readonly frequencyHz: number; readonly levelDb: number }[];
  /** Tones of the pluck with the mode they are most likely to be, 0 = foreign. Empty for a refusal. */
  readonly tones: readonly {
    readonly frequencyHz: number;
    readonly uHz: number;
    readonly levelDb: number;
    readonly decayS: number;
    readonly mode: number;
  }[];
  /** Amplitude of each tone over time, dB full scale, as fitted: [s after the onset, dB]. */
  readonly decays: readonly { readonly frequencyHz: number; readonly line: readonly (readonly [number, number])[] }[];
  readonly best?: Hypothesis;
}

/** From the fit's start to where a tone has fallen by 40 dB, at most so long, s. */
const LONGEST_S = 0.7;
const POINTS = 12;

/**
 * Everything there is to show of how a pluck was heard.
 * The same call as `hear`, with the picture's data beside its answer; a tone's decay is the line its fit means.
 */
export function explain(samples: Float32Array, options: HearOptions): Explained {
  const heard = hear(samples, options);
  const best = heard.ok ? heard.hypotheses[0] : undefined;
  const tones = heard.ok
    ? heard.tones.map((t, i) => ({
        frequencyHz: t.frequencyHz,
        uHz: t.uHz,
        levelDb: t.levelDb,
        decayS: t.decayS,
        mode: best?.modes[i] ?? 0,
      }))
    : [];
  return {
    heard,
    waveform: { sampleRateHz: options.sampleRateHz, samples, onsetIndex: options.onsetSample },
    spectrum: ringCurve(samples, options.sampleRateHz, options.onsetSample),
    tones,
    decays: tones.map((t) => {
      const endS = Math.min(LONGEST_S, 4.6 * t.decayS);
      return {
        frequencyHz: t.frequencyHz,
        line: Array.from({ length: POINTS }, (_, i) => {
          const at = (endS * i) / (POINTS - 1);
          return [at, t.levelDb - (20 / Math.LN10) * (at / t.decayS)] as const;
        }),
      };
    }),
    ...(best ? { best } : {}),
  };
}
