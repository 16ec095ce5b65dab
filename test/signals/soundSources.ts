import { addPartials, type Partial } from './partials.ts';
import type { Random } from './random.ts';
import { addBurst } from './room.ts';

/** A decaying sinusoid with a free phase. */
export const ring = (random: Random, frequencyHz: number, amplitude: number, decayS: number): Partial => ({
  frequencyHz,
  amplitude,
  decayS,
  phase: random.uniform(0, 2 * Math.PI),
  glides: [],
  riseS: 0.0003,
});

/** Clicks of a freehub: 6–30 a second, each a short burst with a ring of the shell of its own; from slow to running. */
export function freehubClicks(
  out: Float64Array,
  rateHz: number,
  fromS: number,
  toS: number,
  peak: number,
  random: Random,
): void {
  const every = 1 / random.logUniform(6, 30);
  const shell = Array.from({ length: 3 }, () => ({
    hz: random.logUniform(1200, 7000),
    decayS: random.logUniform(0.001, 0.006),
  }));
  for (let t = fromS; t < toS; t += every * random.uniform(0.9, 1.1)) {
    const strength = peak * random.uniform(0.6, 1);
    addBurst(out, rateHz, t, { peak: strength, decayS: 0.001, lowHz: 1500, highHz: 12000 }, random);
    addPartials(
      out,
      rateHz,
      t,
      shell.map((s) => ring(random, s.hz, strength * 0.5, s.decayS)),
    );
  }
}

/**
 * A struck disc rotor: bending modes of a ring, f ∝ n(n² − 1)/√(n² + 1), n = 2, 3, …, each split in two by a little asymmetry.
 * @source Hoppe (1871), in-plane and Love (1892), out-of-plane ring modes; Blevins, Formulas for Natural Frequency and Mode Shape
 */
export function rotorRing(random: Random, peak: number): Partial[] {
  const base = random.logUniform(350, 900);
  const partials: Partial[] = [];
  for (let n = 2; n < 9; n++) {
    const hz = (base * n * (n * n - 1)) / Math.sqrt(n * n + 1) / (6 / Math.sqrt(5));
    const amplitude = peak * 10 ** (random.uniform(-24, 0) / 20);
    const decayS = random.logUniform(0.1, 0.8) / (n / 2);
    const split = 1 + random.uniform(0.0005, 0.008);
    partials.push(
      ring(random, hz, amplitude, decayS),
      ring(random, hz * split, amplitude * random.uniform(0.2, 1), decayS),
    );
  }
  return partials;
}

/** Two-pole resonator in place (a formant, a body). */
export function resonate(x: Float64Array, rateHz: number, hz: number, widthHz: number): void {
  const r = Math.exp((-Math.PI * widthHz) / rateHz);
  const a1 = -2 * r * Math.cos((2 * Math.PI * hz) / rateHz);
  const gain = 1 + a1 + r * r;
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < x.length; i++) {
    const y = gain * (x[i] as number) - a1 * y1 - r * r * y2;
    y2 = y1;
    y1 = y;
    x[i] = y;
  }
}

/**
 * Speech-like: a pulsing source (gliding pitch, jitter) or breath through three moving formants, in syllables of 80–300 ms with pauses.
 * @source Rosenberg (1971), glottal pulse; Klatt (1980), cascade formants
 */
export function speech(out: Float64Array, rateHz: number, random: Random): void {
  const pitch = random.logUniform(85, 260);
  let t = random.uniform(0, 0.2);
  const end = out.length / rateHz;
  while (t < end - 0.1) {
    const seconds = random.uniform(0.08, 0.3);
    const x = new Float64Array(Math.ceil(seconds * rateHz));
    const voiced = random.chance(0.8);
    const bend = random.uniform(-0.25, 0.25);
    let phase = 0;
    for (let i = 0; i < x.length; i++) {
      const u = i / x.length;
      const envelope = Math.sin(Math.PI * Math.min(1, u * 1.02)) ** 0.6;
      if (voiced) {
        phase += (pitch * (1 + bend * u + 0.01 * random.normal())) / rateHz;
        const p = phase - Math.floor(phase);
        x[i] =
          envelope * (p < 0.4 ? 3 * (p / 0.4) ** 2 - 2 * (p / 0.4) ** 3 : p < 0.56 ? 1 - ((p - 0.4) / 0.16) ** 2 : 0);
      } else x[i] = envelope * 0.3 * random.normal();
    }
    if (voiced) for (let i = x.length - 1; i > 0; i--) x[i] = (x[i] as number) - (x[i - 1] as number);
    const formants = voiced
      ? [random.uniform(280, 800), random.uniform(900, 2300), random.uniform(2300, 3200)]
      : [random.uniform(1500, 3000), random.uniform(3500, 6000)];
    for (const f of formants) resonate(x, rateHz, f, voiced ? random.uniform(60, 150) : 700);
    let peak = 1e-9;
    for (const v of x) peak = Math.max(peak, Math.abs(v));
    const gain = random.uniform(0.3, 1) / peak;
    const first = Math.floor(t * rateHz);
    for (let i = 0; i < x.length && first + i < out.length; i++)
      out[first + i] = (out[first + i] as number) + gain * (x[i] as number);
    t += seconds + (random.chance(0.25) ? random.uniform(0.15, 0.5) : random.uniform(0, 0.06));
  }
}
