/** Round pieces, tones and plucks as plain lists, for the benches of the member. */
import type { How, Tone } from '../src/contract.ts';
import type { Section } from '../src/physics/member.ts';
import type { PluckTones } from '../src/physics/spokeTones.ts';
import { decibels, hertz, kilogramsPerMetre, metres, newtonMetresSquared, newtons, seconds } from '../src/units.ts';

export const round = (length: number, d: number, modulus: number, density: number): Section => {
  const area = (Math.PI * d * d) / 4;
  const bending = newtonMetresSquared((modulus * Math.PI * d ** 4) / 64);
  return {
    length: metres(length),
    massPerLength: kilogramsPerMetre(density * area),
    bendingInPlane: bending,
    bendingAcross: bending,
    axial: newtons(modulus * area),
  };
};
export const toneOf = (frequency: number, u: number, level: number): Tone => ({
  frequencyHz: hertz(frequency),
  uHz: hertz(u),
  levelDb: decibels(level),
  decayS: seconds(0.4),
  snrDb: decibels(40),
});
export const pluckOf = (tones: readonly Tone[], how: How): PluckTones => {
  const sorted = [...tones].sort((a, b) => a.frequencyHz - b.frequencyHz);
  return {
    tones: sorted,
    covarianceHz2: sorted.map((t, i) => sorted.map((_, j) => (i === j ? t.uHz ** 2 : 0))),
    hypotheses: [],
    flags: [],
    how,
  };
};
