export interface Glide {
  readonly relative: number;
  readonly decayS: number;
}

/** One decaying sinusoid of a sound. */
export interface Partial {
  readonly frequencyHz: number;
  /** Amplitude at the onset. */
  readonly amplitude: number;
  /** Time in which the amplitude falls to 1/e. */
  readonly decayS: number;
  readonly phase: number;
  /** Relative rises of the frequency at the onset, each falling with its own time: f(t) = f (1 + Σ relative · e^(−t/decayS)). */
  readonly glides: readonly Glide[];
  /** The tone rises as 1 − e^(−t/riseS). */
  readonly riseS: number;
}

/** The phase runs straight over blocks in which it bends by no more than this. */
const BEND_RAD = 1e-4;
const BLOCK_SAMPLES = { least: 16, most: 1024 } as const;

/**
 * Adds partials to `out` from `onsetS` on (negative: before the first sample). Phase and decay are exact at every block's first
 * sample; within a block the phase runs straight, so that it never jumps. A partial ends where it has fallen to 1e-5 of the loudest one.
 */
export function addPartials(out: Float64Array, rateHz: number, onsetS: number, partials: readonly Partial[]): void {
  const loudest = partials.reduce((m, p) => Math.max(m, Math.abs(p.amplitude)), 0);
  const first = Math.max(0, Math.ceil(onsetS * rateHz));
  for (const p of partials) {
    if (p.amplitude === 0 || p.frequencyHz >= rateHz * 0.49) continue;
    const life = p.decayS * Math.log(Math.max(1.001, Math.abs(p.amplitude) / (loudest * 1e-5)));
    const last = Math.min(out.length, Math.ceil((onsetS + life) * rateHz));
    const omega = 2 * Math.PI * p.frequencyHz;
    const phaseAt = (t: number): number => {
      let turned = t;
      for (const g of p.glides) turned += g.relative * g.decayS * (1 - Math.exp(-t / g.decayS));
      return p.phase + omega * turned;
    };
    const blockAt = (t: number): number => {
      let bend = 0;
      for (const g of p.glides) bend += (Math.abs(g.relative) / g.decayS) * Math.exp(-t / g.decayS);
      const samples = bend === 0 ? BLOCK_SAMPLES.most : Math.sqrt((8 * BEND_RAD) / (omega * bend)) * rateHz;
      return Math.floor(Math.min(BLOCK_SAMPLES.most, Math.max(BLOCK_SAMPLES.least, samples)));
    };
    let t = first / rateHz - onsetS;
    const decay = Math.exp(-1 / (p.decayS * rateHz));
    const fade = p.riseS > 0 ? Math.exp(-1 / (p.riseS * rateHz)) : 0;
    let phase = phaseAt(t);
    for (let i = first; i < last; ) {
      const block = blockAt(t);
      const step = block / rateHz;
      const next = phaseAt(t + step);
      const turn = (next - phase) / block;
      const c = decay * Math.cos(turn);
      const s = decay * Math.sin(turn);
      const a = p.amplitude * Math.exp(-t / p.decayS);
      let re = a * Math.cos(phase);
      let im = a * Math.sin(phase);
      const end = Math.min(last, i + block);
      let late = p.riseS > 0 ? Math.exp(-t / p.riseS) : 0;
      if (late < 1e-7) {
        for (let j = i; j < end; j++) {
          out[j] = (out[j] as number) + re;
          const r = re * c - im * s;
          im = re * s + im * c;
          re = r;
        }
      } else {
        for (let j = i; j < end; j++) {
          out[j] = (out[j] as number) + re * (1 - late);
          late *= fade;
          const r = re * c - im * s;
          im = re * s + im * c;
          re = r;
        }
      }
      i += block;
      t += step;
      phase = next;
    }
  }
}

/** Energy of partials over the first `seconds`, as mean power: cross terms left out. */
export function partialsPower(partials: readonly Partial[], seconds: number): number {
  let energy = 0;
  for (const p of partials) energy += p.amplitude ** 2 * 0.25 * p.decayS * (1 - Math.exp((-2 * seconds) / p.decayS));
  return energy / seconds;
}
