import { addTo, type Banded, banded } from './banded.ts';
import { type Beam, beamMesh, type Mesh, quadratic } from './finiteElements.ts';
import { lowestModes } from './lowestModes.ts';
import { beamOf, type Plane, type RimSupport, type Spoke, spokeLengthM } from './spokeModes.ts';

/** What holds the crossing in one plane, N/m: the two spokes against each other, and each against the ground (fingers, friction). */
export interface CrossingHold {
  readonly contact: number;
  readonly groundA: number;
  readonly groundB: number;
}

/** One mode of two spokes that touch: parts of its energy, all for unit modal mass (their sum is ω²). */
export interface PairMode {
  readonly frequencyHz: number;
  /** Deflection and slope at the nodes of the plucked spoke (a) and its partner (b). */
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly slopeA: Float64Array;
  readonly slopeB: Float64Array;
  /** ∫ φ′² dx of each spoke: d(ω²)/dT. */
  readonly stretchA: number;
  readonly stretchB: number;
  readonly crossingA: number;
  readonly crossingB: number;
  /** Stored energies: end springs, contact and ground springs, rim support, bending. */
  readonly energy: { readonly ends: number; readonly hold: number; readonly rim: number; readonly bending: number };
}
export interface PairModes {
  readonly xA: Float64Array;
  readonly xB: Float64Array;
  readonly modes: readonly PairMode[];
}

/**
 * Modes of two touching spokes in one plane: each its own beam with tension, ends and rim support; springs join them at the crossing.
 * The unknowns of both are interleaved by relative position, so that the joint matrices stay narrow; a block of two finds double roots.
 */
export function pairModes(
  a: Spoke,
  b: Spoke,
  plane: Plane,
  hold: CrossingHold,
  count: number,
  rim?: RimSupport,
  elementM = 0.006,
): PairModes {
  const beams = [a, b].map((s) => marked(s, plane, rim)) as [Beam, Beam];
  const [meshA, meshB] = beams.map((beam) => beamMesh(beam, elementM)) as [Mesh, Mesh];
  const nodeA = nodeNear(meshA.x, a.crossingFromHubM ?? 0);
  const nodeB = nodeNear(meshB.x, b.crossingFromHubM ?? 0);
  const order = interleave([meshA, meshB]);
  const crossA = order.ofA[meshA.deflection[nodeA] as number] as number;
  const crossB = order.ofB[meshB.deflection[nodeB] as number] as number;
  const joined = (pick: (m: Mesh) => Banded): Banded => {
    const entries: [number, number, number][] = [];
    collect(pick(meshA), order.ofA, entries);
    collect(pick(meshB), order.ofB, entries);
    const width = entries.reduce((w, [i, j]) => Math.max(w, Math.abs(i - j)), Math.abs(crossA - crossB));
    const matrix = banded(order.n, width);
    for (const [i, j, v] of entries) addTo(matrix, i, j, v);
    return matrix;
  };
  const stiffness = joined((m) => m.stiffness);
  addTo(stiffness, crossA, crossA, hold.contact + hold.groundA);
  addTo(stiffness, crossB, crossB, hold.contact + hold.groundB);
  addTo(stiffness, crossA, crossB, -hold.contact);
  const raw = lowestModes(
    stiffness,
    joined((m) => m.mass),
    count,
    2,
  );
  const modes = raw.shapes.map((shape, k) => {
    const own = (mesh: Mesh, to: Int32Array): Float64Array =>
      Float64Array.from({ length: to.length }, (_, i) => shape[to[i] as number] as number).subarray(
        0,
        mesh.stiffness.n,
      );
    const shapeA = own(meshA, order.ofA);
    const shapeB = own(meshB, order.ofB);
    const at = (dof: Int32Array, s: Float64Array) => Float64Array.from(dof, (i) => (i < 0 ? 0 : (s[i] as number)));
    const deflections = [at(meshA.deflection, shapeA), at(meshB.deflection, shapeB)] as const;
    const slopes = [at(meshA.slope, shapeA), at(meshB.slope, shapeB)] as const;
    const stretchA = quadratic(meshA.perTension, shapeA);
    const stretchB = quadratic(meshB.perTension, shapeB);
    const crossingA = deflections[0][nodeA] as number;
    const crossingB = deflections[1][nodeB] as number;
    const omega = raw.omega[k] as number;
    const ends = endEnergy(beams[0], slopes[0]) + endEnergy(beams[1], slopes[1]);
    const held =
      hold.contact * (crossingA - crossingB) ** 2 + hold.groundA * crossingA ** 2 + hold.groundB * crossingB ** 2;
    const rimEnergy = (rim?.stiffnessNPerM ?? 0) * (lastOf(deflections[0]) ** 2 + lastOf(deflections[1]) ** 2);
    const tension = a.tensionN * stretchA + b.tensionN * stretchB;
    return {
      frequencyHz: omega / (2 * Math.PI),
      a: deflections[0],
      b: deflections[1],
      slopeA: slopes[0],
      slopeB: slopes[1],
      stretchA,
      stretchB,
      crossingA,
      crossingB,
      energy: {
        ends,
        hold: held,
        rim: rimEnergy,
        bending: Math.max(0, omega * omega - ends - held - rimEnergy - tension),
      },
    };
  });
  return { xA: meshA.x, xB: meshB.x, modes };
}

/** The beam with a node (no stiffness) at the crossing. */
function marked(spoke: Spoke, plane: Plane, rim: RimSupport | undefined): Beam {
  const at = spoke.crossingFromHubM;
  if (at === undefined || at <= 0 || at >= spokeLengthM(spoke))
    throw new RangeError(`a touching spoke needs its crossing between hub and rim, got ${at} m`);
  return { ...beamOf(spoke, plane, rim), supports: [{ atM: at, stiffnessNPerM: 0 }] };
}

const nodeNear = (x: Float64Array, at: number): number =>
  x.reduce((best, v, i) => (Math.abs(v - at) < Math.abs((x[best] as number) - at) ? i : best), 0);
const lastOf = (v: Float64Array): number => v[v.length - 1] as number;

function endEnergy(beam: Beam, slope: Float64Array): number {
  const one = (k: number, theta: number): number => (Number.isFinite(k) ? k * theta * theta : 0);
  return one(beam.hubSpring, slope[0] as number) + one(beam.rimSpring, lastOf(slope));
}

/** New places of the unknowns of both meshes, sorted by position along the spoke as a share of its length. */
function interleave(meshes: readonly [Mesh, Mesh]): { ofA: Int32Array; ofB: Int32Array; n: number } {
  const all: { mesh: number; dof: number; at: number }[] = [];
  meshes.forEach((mesh, which) => {
    const length = lastOf(mesh.x);
    mesh.x.forEach((x, i) => {
      for (const dof of [mesh.deflection[i] as number, mesh.slope[i] as number])
        if (dof >= 0) all.push({ mesh: which, dof, at: x / length });
    });
  });
  all.sort((p, q) => p.at - q.at || p.mesh - q.mesh || p.dof - q.dof);
  const places = meshes.map((m) => new Int32Array(m.stiffness.n));
  all.forEach((entry, place) => {
    (places[entry.mesh] as Int32Array)[entry.dof] = place;
  });
  return { ofA: places[0] as Int32Array, ofB: places[1] as Int32Array, n: all.length };
}

function collect(matrix: Banded, place: Int32Array, entries: [number, number, number][]): void {
  const { n, halfWidth: h, data } = matrix;
  for (let i = 0; i < n; i++) {
    for (let j = Math.max(0, i - h); j <= i; j++) {
      const value = data[i * (h + 1) + h + j - i] as number;
      if (value !== 0) entries.push([place[i] as number, place[j] as number, value]);
    }
  }
}
