import type { Piece } from './finiteElements.ts';
import type { Random } from './random.ts';
import { ringingLengthM, type Spoke } from './spokeModes.ts';

/** E in Pa, density in kg/m³. Handbook values; see README.md for sources. */
export const MATERIALS = {
  steel: { modulus: 193e9, density: 7900 },
  titanium: { modulus: 114e9, density: 4430 },
  aluminium: { modulus: 71e9, density: 2810 },
  brass: { modulus: 97e9, density: 8490 },
  carbon: { modulus: 140e9, density: 1560 },
} as const;
type Material = keyof typeof MATERIALS;

/** Shear modulus of unidirectional carbon/epoxy, Pa, and how far a wheel's own departs from it, ln; see README.md. */
const CARBON_SHEAR = 5.5e9;
export const SHEAR_SPREAD = 0.25;
/** κG/E of metal at Poisson's ratio 0.3 in a thick tube. */
const TUBE_SHEAR = 0.55 / 2.6;

export const round = (mm: number, material: Material, lengthM: number): Piece => tube(mm, 0, material, lengthM);

/** Round tube, outer and inner diameter in mm. */
export function tube(outerMm: number, innerMm: number, material: Material, lengthM: number): Piece {
  const { modulus, density } = MATERIALS[material];
  const [d, c] = [outerMm * 1e-3, innerMm * 1e-3];
  const area = (Math.PI / 4) * (d * d - c * c);
  const bending = modulus * (Math.PI / 64) * (d ** 4 - c ** 4);
  return piece(lengthM, density * area, bending, bending, modulus * area);
}

/** Flat section, its width in the wheel's plane; `fullness` 1 = rectangle, π/4 = ellipse. */
export function blade(widthMm: number, thickMm: number, material: Material, lengthM: number, fullness = 0.92): Piece {
  const { modulus, density } = MATERIALS[material];
  const [w, t] = [widthMm * 1e-3, thickMm * 1e-3];
  const area = fullness * w * t;
  const second = fullness ** 1.7 / 12;
  return piece(lengthM, density * area, modulus * second * t * w ** 3, modulus * second * w * t ** 3, modulus * area);
}

/** Two bonded layers: masses and stiffnesses add (adhesive neglected). */
export const bonded = (a: Piece, b: Piece): Piece => ({
  ...piece(
    a.lengthM,
    a.massKgPerM + b.massKgPerM,
    a.bendingInPlane + b.bendingInPlane,
    a.bendingAcross + b.bendingAcross,
    a.axialN + b.axialN,
  ),
  ...(a.shearN === undefined || b.shearN === undefined ? {} : { shearN: a.shearN + b.shearN }),
});

/** The same piece giving way in shear: κGA from its axial stiffness. */
const sheared = (p: Piece, shearPerAxial: number): Piece => ({ ...p, shearN: p.axialN * shearPerAxial });
const carbonShare = (share: number, shear: number): number => (share * shear * CARBON_SHEAR) / MATERIALS.carbon.modulus;
/** Carbon rod. @param shear modulus against the usual one */
export const carbonRod = (mm: number, lengthM: number, shear = 1): Piece =>
  sheared(round(mm, 'carbon', lengthM), carbonShare(6 / 7, shear));
/** Metal sleeve bonded over a carbon rod. */
export const sleeve = (outerMm: number, rodMm: number, metal: Material, lengthM: number, shear = 1): Piece =>
  bonded(sheared(tube(outerMm, rodMm, metal, lengthM), TUBE_SHEAR), carbonRod(rodMm, lengthM, shear));

const piece = (l: number, mass: number, inPlane: number, across: number, axial: number): Piece => ({
  lengthM: l,
  massKgPerM: mass,
  bendingInPlane: inPlane,
  bendingAcross: across,
  axialN: axial,
});

export type Kind =
  | 'plain1.8'
  | 'plain2.0'
  | 'plain2.3'
  | 'butted2.0/1.8'
  | 'butted2.0/1.7'
  | 'butted2.0/1.5'
  | 'blade2.2x0.9'
  | 'blade2.6x1.2'
  | 'titanium2.0'
  | 'compositeRod'
  | 'compositeBlade';
export const STEEL_KINDS: readonly Kind[] = [
  'plain1.8',
  'plain2.0',
  'plain2.3',
  'butted2.0/1.8',
  'butted2.0/1.7',
  'butted2.0/1.5',
  'blade2.2x0.9',
  'blade2.6x1.2',
];
export const KINDS: readonly Kind[] = [...STEEL_KINDS, 'titanium2.0', 'compositeRod', 'compositeBlade'];
export const isComposite = (kind: Kind): boolean => kind.startsWith('composite');

/** A wheel's own shear modulus against the usual one. */
const drawShear = (random: Random): number => Math.exp(random.fork('shear').normal(0, SHEAR_SPREAD));

/**
 * Pieces of a spoke of one kind from hub support to rim support; the last one is the visible nipple unless it is hidden.
 * @param shear modulus of the composite against the usual one
 */
export function piecesOf(kind: Kind, supportLengthM: number, random: Random, shear = drawShear(random)): Piece[] {
  const nippleM = random.chance(0.8) ? random.uniform(0.008, 0.01) : 0;
  const wireMm = kind === 'plain1.8' ? 1.8 : kind === 'plain2.3' ? 2.3 : 2;
  const nipple =
    nippleM > 0
      ? [bonded(tube(4, wireMm, random.pick(['brass', 'aluminium']), nippleM), round(wireMm, 'steel', nippleM))]
      : [];
  const bare = supportLengthM - nippleM;
  const butted = (middle: (l: number) => Piece): Piece[] => {
    const head = Math.min(random.uniform(0.015, 0.045), bare * 0.25);
    const tail = Math.min(random.uniform(0.02, 0.045), bare * 0.25);
    return [round(2, 'steel', head), middle(bare - head - tail), round(2, 'steel', tail), ...nipple];
  };
  const ended = (core: (l: number) => Piece): Piece[] => {
    const metal = random.pick(['steel', 'aluminium', 'titanium'] as const);
    const hubM = Math.min(random.uniform(0.02, 0.04), bare * 0.25);
    const rimM = Math.min(random.uniform(0.02, 0.04), bare * 0.25);
    const outer = random.uniform(4.6, 5.4);
    const inner = random.uniform(2.6, 3.4);
    const end = (l: number): Piece => sleeve(outer, inner, metal, l, shear);
    return [end(hubM), core(bare - hubM - rimM), end(rimM), ...nipple];
  };
  switch (kind) {
    case 'plain1.8':
    case 'plain2.0':
    case 'plain2.3':
      return [round(wireMm, 'steel', bare), ...nipple];
    case 'butted2.0/1.8':
      return butted((l) => round(1.8, 'steel', l));
    case 'butted2.0/1.7':
      return butted((l) => round(1.7, 'steel', l));
    case 'butted2.0/1.5':
      return butted((l) => round(1.5, 'steel', l));
    case 'blade2.2x0.9':
      return butted((l) => blade(2.2, 0.9, 'steel', l));
    case 'blade2.6x1.2':
      return butted((l) => blade(2.6, 1.2, 'steel', l));
    case 'titanium2.0':
      return [round(2, 'titanium', bare), ...nipple];
    case 'compositeRod': {
      const d = random.uniform(2.6, 4);
      return ended((l) => carbonRod(d, l, shear));
    }
    case 'compositeBlade': {
      const w = random.uniform(3.2, 5);
      const t = random.uniform(1.4, 2.2);
      return ended((l) => sheared(blade(w, t, 'carbon', l, 0.85), carbonShare(5 / 6, shear)));
    }
  }
}

/** End springs of a wheel: one log-uniform draw per end and plane. */
export function drawEnds(random: Random): {
  hub: { inPlane: number; across: number };
  rim: { inPlane: number; across: number };
} {
  const one = (): number => random.logUniform(1, 300);
  return { hub: { inPlane: one(), across: one() }, rim: { inPlane: one(), across: one() } };
}

/** Ends of one spoke among its like: each spring scattered by `relative` (log-normal). */
export function scatterEnds<E extends ReturnType<typeof drawEnds>>(ends: E, relative: number, random: Random): E {
  const one = (k: number): number => k * Math.exp(random.normal(0, relative));
  return {
    ...ends,
    hub: { inPlane: one(ends.hub.inPlane), across: one(ends.hub.across) },
    rim: { inPlane: one(ends.rim.inPlane), across: one(ends.rim.across) },
  };
}

export interface DrawnSpoke {
  readonly kind: Kind;
  readonly spoke: Spoke;
  /** B = π² EI/(T L²) of the ringing length, with mean bending of its pieces in the wheel's plane. */
  readonly inharmonicity: number;
}

/** A spoke drawn from the whole catalogue: 140–300 mm, crossing at 15–35 % of the length from the hub or none, 150–1500 N, B 0.002–0.3. */
export function drawSpoke(random: Random, kinds: readonly Kind[] = KINDS): DrawnSpoke {
  for (let tries = 0; tries < 1000; tries++) {
    const kind = random.pick(kinds);
    const lengthM = random.uniform(0.14, 0.3);
    const pieces = piecesOf(kind, lengthM, random);
    const crossing = random.chance(0.65) ? { crossingFromHubM: lengthM * random.uniform(0.15, 0.35) } : {};
    const spoke: Spoke = { pieces, tensionN: random.logUniform(150, 1500), ...drawEnds(random), ...crossing };
    const inharmonicity = inharmonicityOf(spoke);
    if (inharmonicity >= 0.002 && inharmonicity <= 0.3) return { kind, spoke, inharmonicity };
  }
  throw new RangeError('no spoke of these kinds has an inharmonicity of 0.002–0.3');
}

/** B of the ringing length; the compliance (1/EI) is averaged over the length, so that short stiff ends count little. */
export function inharmonicityOf(spoke: Spoke): number {
  const total = spoke.pieces.reduce((sum, p) => sum + p.lengthM, 0);
  const compliance = spoke.pieces.reduce((sum, p) => sum + p.lengthM / p.bendingInPlane, 0) / total;
  return Math.PI ** 2 / compliance / (spoke.tensionN * ringingLengthM(spoke) ** 2);
}
