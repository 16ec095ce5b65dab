/** One decaying sinusoid of a sound. */
export interface Partial {
  readonly frequencyHz: number;
  /** Amplitude at the onset. */
  readonly amplitude: number;
  /** Time in which the amplitude falls to 1/e. */
  readonly decayS: number;
  readonly phase: number;
  /** Relative rise of the frequency at the onset; it falls with `glideS`: f(t) = f (1 + glide · e^(−t/glideS)). */
  readonly glide: number;
  readonly glideS: number;
  /** The tone rises as 1 − e^(−t/riseS). */
  readonly riseS: number;
}

const BLOCK = 32;

/**
 * Adds partials to `out` from `onsetS` on. Phase and decay are exact at every 32nd sample; between them the phase runs straight,
 * so that it never jumps. A partial ends where it has fallen to 1e-6 of the loudest one.
 */
export function addPartials(out: Float64Array, rateHz: number, onsetS: number, partials: readonly Partial[]): void {
  const loudest = partials.reduce((m, p) => Math.max(m, Math.abs(p.amplitude)), 0);
  const first = Math.ceil(onsetS * rateHz);
  for (const p of partials) {
    if (p.amplitude === 0 || p.frequencyHz >= rateHz * 0.49) continue;
    const life = p.decayS * Math.log(Math.max(1.001, Math.abs(p.amplitude) / (loudest * 1e-6)));
    const last = Math.min(out.length, first + Math.ceil(life * rateHz));
    const omega = 2 * Math.PI * p.frequencyHz;
    const phaseAt = (t: number): number =>
      p.phase + omega * (t + (p.glide === 0 ? 0 : p.glide * p.glideS * (1 - Math.exp(-t / p.glideS))));
    let t = first / rateHz - onsetS;
    const step = BLOCK / rateHz;
    const decay = Math.exp(-1 / (p.decayS * rateHz));
    let phase = phaseAt(t);
    for (let i = first; i < last; i += BLOCK) {
      const next = phaseAt(t + step);
      const turn = (next - phase) / BLOCK;
      const c = decay * Math.cos(turn);
      const s = decay * Math.sin(turn);
      const a = p.amplitude * Math.exp(-t / p.decayS);
      let re = a * Math.cos(phase);
      let im = a * Math.sin(phase);
      const end = Math.min(last, i + BLOCK);
      const rising = p.riseS > 0 && t < 12 * p.riseS;
      for (let j = i; j < end; j++) {
        out[j] = (out[j] as number) + (rising ? re * (1 - Math.exp(onsetToRise(j, rateHz, onsetS, p.riseS))) : re);
        const r = re * c - im * s;
        im = re * s + im * c;
        re = r;
      }
      t += step;
      phase = next;
    }
  }
}

const onsetToRise = (j: number, rateHz: number, onsetS: number, riseS: number): number =>
  -(j / rateHz - onsetS) / riseS;

/** Energy of partials over the first `seconds`, as mean power: cross terms left out. */
export function partialsPower(partials: readonly Partial[], seconds: number): number {
  let energy = 0;
  for (const p of partials) energy += p.amplitude ** 2 * 0.25 * p.decayS * (1 - Math.exp((-2 * seconds) / p.decayS));
  return energy / seconds;
}
