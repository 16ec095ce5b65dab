/** General pitch trackers on the same plucks, each as its authors ship it; 8192 samples from 25 ms after the onset. */
import { Macleod } from 'pitchfinder/lib/detectors/macleod.js';
import { YIN } from 'pitchfinder/lib/detectors/yin.js';
import { PitchDetector } from 'pitchy';
import { realFft } from '../src/audio/realFft.ts';

const LENGTH = 8192;
export type Reference = (samples: Float32Array, onset: number, sampleRateHz: number) => number | undefined;

const cut = (samples: Float32Array, onset: number, rate: number): Float32Array => {
  const from = onset + Math.round(0.025 * rate);
  const out = samples.slice(from, from + LENGTH);
  const mean = out.reduce((s, v) => s + v, 0) / out.length;
  const peak = out.reduce((m, v) => Math.max(m, Math.abs(v - mean)), 1e-12);
  return out.map((v) => (v - mean) / peak);
};

let pitchy: ReturnType<typeof PitchDetector.forFloat32Array> | undefined;

export const REFERENCES: Readonly<Record<string, Reference>> = {
  'pitchfinder YIN': (s, on, rate) => YIN({ sampleRate: rate })(cut(s, on, rate)) ?? undefined,
  'pitchfinder Macleod': (s, on, rate) => {
    const { freq } = Macleod({ sampleRate: rate, bufferSize: LENGTH / 2 })(cut(s, on, rate).subarray(0, LENGTH / 2));
    return freq > 0 ? freq : undefined;
  },
  pitchy: (s, on, rate) => {
    pitchy ??= PitchDetector.forFloat32Array(LENGTH);
    const [hz] = pitchy.findPitch(cut(s, on, rate), rate);
    return hz > 0 ? hz : undefined;
  },
  'FFT, strongest bin': (s, on, rate) => {
    const x = cut(s, on, rate).map((v, i) => v * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / LENGTH)));
    const bins = realFft(LENGTH).forward(x);
    let best = 1;
    let most = 0;
    for (let k = 8; k < LENGTH / 2; k++) {
      const p = (bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2;
      if (p > most) {
        most = p;
        best = k;
      }
    }
    return (best * rate) / LENGTH;
  },
  'autocorrelation peak': (s, on, rate) => {
    const x = cut(s, on, rate);
    const padded = new Float64Array(2 * LENGTH);
    padded.set(x);
    const fft = realFft(2 * LENGTH);
    const bins = fft.forward(padded).slice();
    const power = new Float64Array(4 * LENGTH);
    for (let k = 0; k <= LENGTH; k++) {
      const p = (bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2;
      power[2 * k] = p;
      if (k > 0 && k < LENGTH) power[2 * (2 * LENGTH - k)] = p;
    }
    const lags = fft.inverse(power);
    const at = (lag: number) => (lags[2 * lag] as number) / (1 - lag / LENGTH);
    let best = 0;
    let most = Number.NEGATIVE_INFINITY;
    let fallen = false;
    for (let lag = 1; lag < rate / 60; lag++) {
      if (at(lag) < 0) fallen = true;
      if (fallen && at(lag) > most && at(lag) >= at(lag - 1) && at(lag) >= at(lag + 1)) {
        most = at(lag);
        best = lag;
      }
    }
    if (best === 0) return undefined;
    const [a, b, c] = [at(best - 1), at(best), at(best + 1)];
    return rate / (best + (0.5 * (a - c)) / (a - 2 * b + c));
  },
};
