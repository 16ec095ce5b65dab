import type { Random } from './random.ts';

/** A burst of coloured noise with a fast attack: the nail leaving the wire, a thump, a knock. `peak` is its amplitude. */
export function addBurst(
  out: Float64Array,
  rateHz: number,
  atS: number,
  burst: { peak: number; decayS: number; lowHz: number; highHz: number },
  random: Random,
): void {
  const first = Math.round(atS * rateHz);
  const count = Math.ceil(burst.decayS * 7 * rateHz);
  const low = Math.exp((-2 * Math.PI * burst.lowHz) / rateHz);
  const high = Math.exp((-2 * Math.PI * Math.min(burst.highHz, rateHz * 0.45)) / rateHz);
  const buffer = new Float64Array(count);
  let smooth = 0;
  let slow = 0;
  let peak = 0;
  for (let i = 0; i < count; i++) {
    smooth = high * smooth + (1 - high) * random.normal();
    slow = low * slow + (1 - low) * smooth;
    const v = (smooth - slow) * Math.exp(-i / (burst.decayS * rateHz));
    buffer[i] = v;
    peak = Math.max(peak, Math.abs(v));
  }
  const scale = burst.peak / (peak || 1);
  for (let i = 0; i < count && first + i < out.length; i++)
    if (first + i >= 0) out[first + i] = (out[first + i] as number) + scale * (buffer[i] as number);
}

/** Mains hum: fundamental 50 or 60 Hz (± 0.2 %) with harmonics falling at random; `power` = its mean square. */
export function addHum(out: Float64Array, rateHz: number, power: number, random: Random): void {
  if (power <= 0) return;
  const base = random.pick([50, 60]) * (1 + random.normal(0, 0.001));
  const lines = Array.from({ length: 12 }, (_, k) => ({
    hz: base * (k + 1),
    a: (1 / (k + 1) ** 0.8) * Math.exp(random.normal(0, 0.6)) * ((k + 1) % 2 === 0 ? 1.2 : 0.9),
    phase: random.uniform(0, 2 * Math.PI),
  }));
  const total = lines.reduce((sum, l) => sum + l.a * l.a * 0.5, 0);
  const scale = Math.sqrt(power / total);
  for (const l of lines) {
    if (l.hz > rateHz * 0.45) continue;
    const c = Math.cos((2 * Math.PI * l.hz) / rateHz);
    const s = Math.sin((2 * Math.PI * l.hz) / rateHz);
    let re = scale * l.a * Math.cos(l.phase);
    let im = scale * l.a * Math.sin(l.phase);
    for (let i = 0; i < out.length; i++) {
      out[i] = (out[i] as number) + re;
      const r = re * c - im * s;
      im = re * s + im * c;
      re = r;
    }
  }
}

/** Microphone's lower cut: first- or second-order high-pass (Butterworth, bilinear). @source Oppenheim & Schafer, Discrete-Time Signal Processing, ch. 7 */
export function highPass(out: Float64Array, rateHz: number, cutHz: number): void {
  biquad(out, rateHz, cutHz, 'high');
}
/** Microphone's upper cut. */
export function lowPass(out: Float64Array, rateHz: number, cutHz: number): void {
  if (cutHz < rateHz * 0.48) biquad(out, rateHz, cutHz, 'low');
}
function biquad(out: Float64Array, rateHz: number, cutHz: number, kind: 'high' | 'low'): void {
  const k = Math.tan((Math.PI * cutHz) / rateHz);
  const norm = 1 / (1 + Math.SQRT2 * k + k * k);
  const b0 = kind === 'high' ? norm : k * k * norm;
  const b1 = kind === 'high' ? -2 * b0 : 2 * b0;
  const a1 = 2 * (k * k - 1) * norm;
  const a2 = (1 - Math.SQRT2 * k + k * k) * norm;
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < out.length; i++) {
    const x = out[i] as number;
    const y = b0 * x + b1 * x1 + b0 * x2 - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    out[i] = y;
  }
}

/** A small room: the sound itself and `taps` sparse reflections, density and sign random, falling by 60 dB in `reverbS`. */
export function reverberate(
  out: Float64Array,
  rateHz: number,
  reverbS: number,
  wet: number,
  random: Random,
  taps = 120,
): void {
  const dry = out.slice();
  const energy = Array.from({ length: taps }, () => {
    const delayS = reverbS * 0.6 * random.uniform(0.02, 1);
    return { delay: Math.round(delayS * rateHz), gain: random.sign() * 10 ** ((-3 * delayS) / reverbS) };
  });
  const norm = wet / Math.sqrt(energy.reduce((sum, t) => sum + t.gain ** 2, 0));
  for (const { delay, gain } of energy) {
    const g = gain * norm;
    for (let i = delay; i < out.length; i++) out[i] = (out[i] as number) + g * (dry[i - delay] as number);
  }
}

/** Cuts at ± `limit`. */
export function clip(out: Float64Array, limit: number): void {
  for (let i = 0; i < out.length; i++) out[i] = Math.max(-limit, Math.min(limit, out[i] as number));
}

/** A slow gain control: the gain climbs by `dBPerS` from `fromS` on. */
export function driftGain(out: Float64Array, rateHz: number, fromS: number, dBPerS: number): void {
  const first = Math.round(fromS * rateHz);
  const step = 10 ** (dBPerS / 20 / rateHz);
  let gain = 1;
  for (let i = Math.max(0, first); i < out.length; i++) {
    out[i] = (out[i] as number) * gain;
    gain *= step;
  }
}

/** A noise gate that shuts at `shutS` within `fallS`, to −50 dB. */
export function gate(out: Float64Array, rateHz: number, openS: number, shutS: number, fallS: number): void {
  for (let i = 0; i < out.length; i++) {
    const t = i / rateHz;
    const open = t >= openS && t < shutS ? 1 : t < openS ? 0.003 : 0.003 + 0.997 * Math.exp(-(t - shutS) / fallS);
    out[i] = (out[i] as number) * open;
  }
}
