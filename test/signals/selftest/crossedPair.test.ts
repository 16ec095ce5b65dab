import { expect, test } from 'vitest';
import { round } from '../catalogue.ts';
import { pairModes } from '../crossedPair.ts';
import type { Piece } from '../finiteElements.ts';
import { type Spoke, spokeModes } from '../spokeModes.ts';

const ends = (k: number) => ({ hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } });
const spoke = (piece: Piece, tensionN: number, k: number): Spoke => ({
  pieces: [piece],
  tensionN,
  crossingFromHubM: 0.07,
  ...ends(k),
});
const rigid = { contact: 1e10, groundA: 0, groundB: 0 };

// Caracoglia & Jones 2005, J. Sound Vib. 279:969: Σ Zᵢ [cot kᵢa + cot kᵢb] = 0 for two strings tied at one point.
test('two tied strings obey the impedance equation of taut cable networks', () => {
  const wire = round(2, 'steel', 0.27);
  const string = { ...wire, bendingInPlane: 1e-5, bendingAcross: 1e-5 };
  const tensions = [1000, 600];
  // Multiplied out by the sines, so that it has no poles.
  const tied = (hz: number): number => {
    const strings = tensions.map((t) => {
      const k = 2 * Math.PI * hz * Math.sqrt(string.massKgPerM / t);
      return {
        z: Math.sqrt(t * string.massKgPerM),
        product: Math.sin(k * 0.07) * Math.sin(k * 0.2),
        sum: Math.sin(k * 0.27),
      };
    });
    const [a, b] = strings as [(typeof strings)[number], (typeof strings)[number]];
    return a.z * a.sum * b.product + b.z * b.sum * a.product;
  };
  const { modes } = pairModes(spoke(string, 1000, 0), spoke(string, 600, 0), 'across', rigid, 4, undefined, 0.001);
  // The kink at the tie is rounded over √(EI/T) = 0.13 mm of 70 mm.
  const roundedRelative = Math.sqrt(1e-5 / 600) / 0.07;
  for (const { frequencyHz } of modes)
    expect(Math.sign(tied(frequencyHz * (1 - roundedRelative)))).not.toBe(
      Math.sign(tied(frequencyHz * (1 + roundedRelative))),
    );
});

// Symmetry: in phase the crossing is idle, so the pair's lowest tone is the single spoke's; out of phase it is a node, as if held.
test('equal partners move in phase like one uncrossed spoke and out of phase as if the crossing were held', () => {
  const a = spoke(round(2, 'steel', 0.27), 1000, 20);
  const { modes } = pairModes(a, a, 'across', rigid, 4, undefined, 0.003);
  const alone = spokeModes({ pieces: a.pieces, tensionN: 1000, hub: a.hub, rim: a.rim }, 'across', 1, 0.003).modes[0];
  const held = spokeModes(a, 'across', 1, 0.003).modes[0];
  const meshRelative = 1e-6;
  expect(Math.abs((modes[0]?.frequencyHz ?? 0) / (alone?.frequencyHz ?? 1) - 1)).toBeLessThan(meshRelative);
  expect(Math.abs((modes[1]?.frequencyHz ?? 0) / (held?.frequencyHz ?? 1) - 1)).toBeLessThan(meshRelative);
});

// Rayleigh's principle: a mode shared by two equal wires feels the mean of their tensions, up to the second order of their half difference.
test('the lowest tone of an open pair tells the mean tension of the two, not the tension of one', () => {
  const piece = round(2, 'steel', 0.29);
  const { modes } = pairModes(spoke(piece, 1000, 22), spoke(piece, 800, 22), 'across', { ...rigid, contact: 1e6 }, 2);
  const mean = spokeModes({ pieces: [piece], tensionN: 900, ...ends(22) }, 'across', 1).modes[0];
  const secondOrderRelative = (100 / 900) ** 2 / 2;
  expect(Math.abs((modes[0]?.frequencyHz ?? 0) / (mean?.frequencyHz ?? 1) - 1)).toBeLessThan(secondOrderRelative);
});

test('the stored energies of a mode add up to its frequency squared', () => {
  const a = spoke(round(2, 'steel', 0.27), 1000, 20);
  const b = spoke(round(2, 'steel', 0.27), 700, 20);
  const rim = { massKg: 0.3, stiffnessNPerM: 0.3 * (2 * Math.PI * 900) ** 2 };
  const { modes } = pairModes(a, b, 'across', { contact: 1e6, groundA: 2e5, groundB: 1e5 }, 8, rim);
  for (const m of modes) {
    const omega2 = (2 * Math.PI * m.frequencyHz) ** 2;
    const known = m.energy.ends + m.energy.hold + m.energy.rim + 1000 * m.stretchA + 700 * m.stretchB;
    expect(m.energy.bending).toBeGreaterThan(0);
    expect(Math.abs((known + m.energy.bending) / omega2 - 1)).toBeLessThan(1e-9);
  }
});
