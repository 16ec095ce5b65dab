import { addTo, type Banded, banded } from './banded.ts';
import { lowestModes } from './lowestModes.ts';

/** A uniform piece of a spoke, plain SI numbers. */
export interface Piece {
  readonly lengthM: number;
  readonly massKgPerM: number;
  /** Bending stiffness E·I for movement along the rim and along the axle, N·m². */
  readonly bendingInPlane: number;
  readonly bendingAcross: number;
  /** E·A, N. */
  readonly axialN: number;
  /** Shear stiffness κGA, N; absent: it does not shear. */
  readonly shearN?: number;
}

/** A straight beam under tension in one plane of bending, hub at x = 0. */
export interface Beam {
  readonly pieces: readonly {
    readonly lengthM: number;
    readonly massKgPerM: number;
    readonly bending: number;
    /** κGA, N; absent: it does not shear. */
    readonly shearN?: number;
  }[];
  readonly tensionN: number;
  /** Rotational springs at the two ends, N·m/rad; Infinity = clamped. */
  readonly hubSpring: number;
  readonly rimSpring: number;
  /** Transverse support of the rim end; absent = rigid. A mass on a spring stands for one mode of the rim. */
  readonly rim?: { readonly stiffnessNPerM: number; readonly massKg: number };
  /** Point supports in between, N/m against the ground; Infinity = rigid. */
  readonly supports?: readonly { readonly atM: number; readonly stiffnessNPerM: number }[];
}

/** A mesh with matrices: two unknowns a node (deflection, slope). */
export interface Mesh {
  readonly x: Float64Array;
  readonly stiffness: Banded;
  readonly mass: Banded;
  /** Stiffness matrix of unit tension alone: dK/dT. */
  readonly perTension: Banded;
  /** Index of the deflection of node i, −1 where it is held at zero; same for slopes. */
  readonly deflection: Int32Array;
  readonly slope: Int32Array;
}

/** Nodes at every joint and at `breaks`, elements no longer than `elementM`, at least two a piece. */
export function meshNodes(lengths: readonly number[], breaks: readonly number[], elementM: number): Float64Array {
  const total = lengths.reduce((a, b) => a + b, 0);
  const marks = [0];
  let at = 0;
  for (const length of lengths) {
    at += length;
    marks.push(at);
  }
  for (const b of breaks) if (b > 1e-9 && b < total - 1e-9) marks.push(b);
  marks.sort((a, b) => a - b);
  const x: number[] = [0];
  for (let i = 1; i < marks.length; i++) {
    const from = marks[i - 1] as number;
    const length = (marks[i] as number) - from;
    if (length < 1e-9) continue;
    const elements = Math.max(length > 2e-3 ? 2 : 1, Math.ceil(length / elementM - 1e-9));
    for (let k = 1; k <= elements; k++) x.push(from + (length * k) / elements);
  }
  return Float64Array.from(x);
}

/**
 * Stiffness and consistent mass of a tensioned beam: cubic elements, geometric stiffness of the tension. Where a piece shears, its slopes are the turns of
 * its section, and the shapes are those that bending and shear give together (Friedman & Kosmatka 1993).
 * @source Przemieniecki, Theory of Matrix Structural Analysis (1968), ch. 5, 11, 15; Cook, Concepts and Applications of Finite Element Analysis
 */
export function beamMesh(beam: Beam, elementM = 0.005): Mesh {
  const supports = beam.supports ?? [];
  const x = meshNodes(
    beam.pieces.map((p) => p.lengthM),
    supports.map((s) => s.atM),
    // Within an element the shear force is taken as constant: an error of (βh)²/12 of what shear does.
    beam.pieces.some(({ shearN }) => shearN !== undefined) ? elementM / 2 : elementM,
  );
  const last = x.length - 1;
  const nodeAt = (at: number): number => x.findIndex((v) => Math.abs(v - at) < 2e-9);
  const rigid = new Set(supports.filter((s) => s.stiffnessNPerM === Infinity).map((s) => nodeAt(s.atM)));
  rigid.add(0);
  if (!beam.rim) rigid.add(last);
  const deflection = new Int32Array(x.length).fill(-1);
  const slope = new Int32Array(x.length).fill(-1);
  let n = 0;
  for (let i = 0; i <= last; i++) {
    if (!rigid.has(i)) deflection[i] = n++;
    const clamped = (i === 0 && beam.hubSpring === Infinity) || (i === last && beam.rimSpring === Infinity);
    if (!clamped) slope[i] = n++;
  }
  const stiffness = banded(n, 3);
  const mass = banded(n, 3);
  const perTension = banded(n, 3);
  let e = { h: 1, phi: 0, ...cubicElement(1, 0) };
  let piece = 0;
  let pieceEnd = beam.pieces[0]?.lengthM ?? 0;
  for (let i = 0; i < last; i++) {
    const a = x[i] as number;
    const h = (x[i + 1] as number) - a;
    while (piece < beam.pieces.length - 1 && a + h / 2 > pieceEnd) pieceEnd += beam.pieces[++piece]?.lengthM ?? 0;
    const p = beam.pieces[piece];
    if (!p) throw new RangeError('a beam needs at least one piece');
    const dof = [deflection[i], slope[i], deflection[i + 1], slope[i + 1]] as number[];
    const phi = p.shearN === undefined ? 0 : (12 * p.bending) / (p.shearN * h * h);
    if (Math.abs(h - e.h) > 1e-12 || phi !== e.phi) e = { h, phi, ...cubicElement(h, phi) };
    for (let r = 0; r < 4; r++) {
      for (let c = 0; c <= r; c++) {
        const dr = dof[r] as number;
        const dc = dof[c] as number;
        if (dr < 0 || dc < 0) continue;
        const at = r * 4 + c;
        const g = e.tension[at] as number;
        addTo(stiffness, dr, dc, p.bending * (e.bending[at] as number) + beam.tensionN * g);
        addTo(perTension, dr, dc, g);
        addTo(mass, dr, dc, p.massKgPerM * (e.mass[at] as number));
      }
    }
  }
  const spring = (dof: number | undefined, k: number): void => {
    if (dof !== undefined && dof >= 0 && Number.isFinite(k) && k > 0) addTo(stiffness, dof, dof, k);
  };
  spring(slope[0], beam.hubSpring);
  spring(slope[last], beam.rimSpring);
  for (const s of supports) spring(deflection[nodeAt(s.atM)], s.stiffnessNPerM);
  if (beam.rim) {
    spring(deflection[last], beam.rim.stiffnessNPerM);
    addTo(mass, deflection[last] as number, deflection[last] as number, beam.rim.massKg);
  }
  return { x, stiffness, mass, perTension, deflection, slope };
}

/**
 * Matrices of a cubic element of length h for unit EI, unit T and unit mass per length, row-major 4 × 4.
 * @param phi 12·EI/(κGA·h²): 0 gives the Hermite element
 * @source Friedman & Kosmatka, Computers & Structures 47 (1993), 473: shapes; the products integrated by hand
 */
export function cubicElement(h: number, phi: number): { bending: number[]; tension: number[]; mass: number[] } {
  const soft = 1 + phi;
  const bending = symmetric(h, [12, 6, -12, 4 + phi, 2 - phi]);
  const tension = symmetric(h, [
    36 + 60 * phi + 30 * phi ** 2,
    3,
    -36 - 60 * phi - 30 * phi ** 2,
    4 + 5 * phi + 2.5 * phi ** 2,
    -1 - 5 * phi - 2.5 * phi ** 2,
  ]);
  const [m11, m12, m13] = [
    78 + 147 * phi + 70 * phi ** 2,
    44 + 77 * phi + 35 * phi ** 2,
    27 + 63 * phi + 35 * phi ** 2,
  ];
  const [m14, m22, m24] = [26 + 63 * phi + 35 * phi ** 2, 8 + 14 * phi + 7 * phi ** 2, 6 + 14 * phi + 7 * phi ** 2];
  const mass = [
    [4 * m11, m12 * h, 4 * m13, -m14 * h],
    [m12 * h, m22 * h * h, m14 * h, -m24 * h * h],
    [4 * m13, m14 * h, 4 * m11, -m12 * h],
    [-m14 * h, -m24 * h * h, -m12 * h, m22 * h * h],
  ];
  const scaled = (rows: readonly (readonly number[])[], f: number): number[] => rows.flat().map((v) => v * f);
  return {
    bending: scaled(bending, 1 / (h ** 3 * soft)),
    tension: scaled(tension, 1 / (30 * h * soft ** 2)),
    mass: scaled(mass, h / (840 * soft ** 2)),
  };
}

/** Rows of a stiffness whose moments balance its forces. */
const symmetric = (
  h: number,
  [k11, k12, k13, k22, k24]: readonly [number, number, number, number, number],
): number[][] => [
  [k11, k12 * h, k13, k12 * h],
  [k12 * h, k22 * h * h, -k12 * h, k24 * h * h],
  [k13, -k12 * h, k11, -k12 * h],
  [k12 * h, k24 * h * h, -k12 * h, k22 * h * h],
];

/** One mode of a beam: frequency, deflection at the nodes (unit modal mass) and its slope dφ/dx there. */
export interface BeamMode {
  readonly frequencyHz: number;
  readonly deflection: Float64Array;
  readonly slope: Float64Array;
  /** ∫ φ′² dx: how much tension the mode feels, and how much it stretches the spoke. d(ω²)/dT. */
  readonly stretch: number;
}

/** The lowest `count` modes of a beam in one plane. */
export function beamModes(beam: Beam, count: number, elementM = 0.005): { x: Float64Array; modes: BeamMode[] } {
  const mesh = beamMesh(beam, elementM);
  const raw = lowestModes(mesh.stiffness, mesh.mass, count);
  const modes = raw.shapes.map((shape, k) => {
    const at = (dof: Int32Array) => Float64Array.from(dof, (i) => (i < 0 ? 0 : (shape[i] as number)));
    return {
      frequencyHz: (raw.omega[k] as number) / (2 * Math.PI),
      deflection: at(mesh.deflection),
      slope: at(mesh.slope),
      stretch: quadratic(mesh.perTension, shape),
    };
  });
  return { x: mesh.x, modes };
}

/** φᵀ A φ of a banded matrix. */
export function quadratic(matrix: Banded, v: Float64Array): number {
  const { n, halfWidth: h, data } = matrix;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const row = i * (h + 1) + h - i;
    for (let j = Math.max(0, i - h); j <= i; j++)
      sum += (j === i ? 1 : 2) * (data[row + j] as number) * (v[i] as number) * (v[j] as number);
  }
  return sum;
}
