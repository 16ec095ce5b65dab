import { type Beam, type BeamMode, beamModes, type Piece } from './finiteElements.ts';

export type Plane = 'inPlane' | 'across';
/** `segment`: crossing to rim; `hub`: hub to crossing; `pair`: both spokes of an open crossing; `whole`: hub to rim, nothing touches. */
export type Family = 'segment' | 'hub' | 'pair' | 'whole';

/** Rotational stiffness of one end in the two planes, N·m/rad; 0 pinned, Infinity clamped. */
export interface EndSprings {
  readonly inPlane: number;
  readonly across: number;
}

/** One spoke of the simulation, plain SI numbers, hub end first. */
export interface Spoke {
  readonly pieces: readonly Piece[];
  readonly crossingFromHubM?: number;
  readonly tensionN: number;
  readonly hub: EndSprings;
  readonly rim: EndSprings;
}

/** One mode of a spoke in one plane. */
export interface SpokeMode extends BeamMode {
  readonly plane: Plane;
  readonly family: Family;
  /** 1 = lowest of its family. */
  readonly mode: number;
  /** d ln f / d ln T. */
  readonly tensionShare: number;
  /** Transverse force on the rim (hub) for unit modal coordinate, N. */
  readonly rimForceN: number;
  readonly hubForceN: number;
}
export interface SpokeModes {
  readonly x: Float64Array;
  readonly modes: readonly SpokeMode[];
}

export const spokeLengthM = (spoke: Spoke): number => spoke.pieces.reduce((sum, p) => sum + p.lengthM, 0);

/** Length that rings: crossing to rim where the crossing is held, else hub to rim. */
export const ringingLengthM = (spoke: Spoke): number => spokeLengthM(spoke) - (spoke.crossingFromHubM ?? 0);

/** Transverse support of the rim end: a spring to the ground and a mass, i.e. one mode of the rim. */
export interface RimSupport {
  readonly stiffnessNPerM: number;
  readonly massKg: number;
}

/** One plane of a spoke as a beam, nothing at the crossing. */
export function beamOf(spoke: Spoke, plane: Plane, rim?: RimSupport): Beam {
  const inPlane = plane === 'inPlane';
  return {
    pieces: spoke.pieces.map((p) => ({
      lengthM: p.lengthM,
      massKgPerM: p.massKgPerM,
      bending: inPlane ? p.bendingInPlane : p.bendingAcross,
      ...(p.shearN === undefined ? {} : { shearN: p.shearN }),
    })),
    tensionN: spoke.tensionN,
    hubSpring: spoke.hub[plane],
    rimSpring: spoke.rim[plane],
    ...(rim ? { rim } : {}),
  };
}

/**
 * Modes of one spoke in one plane, crossing (if any) held still: a rigid point support with the spoke continuing beyond it.
 * A mode belongs to the part that carries more of its kinetic energy; within a family modes count upwards in frequency.
 */
export function spokeModes(spoke: Spoke, plane: Plane, count: number, elementM = 0.006): SpokeModes {
  const crossing = spoke.crossingFromHubM;
  const beam = beamOf(spoke, plane);
  const supports = crossing === undefined ? {} : { supports: [{ atM: crossing, stiffnessNPerM: Infinity }] };
  const { x, modes } = beamModes({ ...beam, ...supports }, count, elementM);
  const counters: Record<Family, number> = { segment: 0, hub: 0, pair: 0, whole: 0 };
  const last = x.length - 1;
  const labelled = modes.map((m): SpokeMode => {
    const family: Family = crossing === undefined ? 'whole' : segmentShare(x, m, crossing) >= 0.5 ? 'segment' : 'hub';
    counters[family]++;
    const omega2 = (2 * Math.PI * m.frequencyHz) ** 2;
    const first = beam.pieces[0];
    const end = beam.pieces[beam.pieces.length - 1];
    if (!first || !end) throw new RangeError('a spoke needs at least one piece');
    return {
      ...m,
      plane,
      family,
      mode: counters[family],
      tensionShare: (spoke.tensionN * m.stretch) / (2 * omega2),
      rimForceN: endForce(x, m, last - 1, last, end, spoke.tensionN),
      hubForceN: endForce(x, m, 1, 0, first, spoke.tensionN),
    };
  });
  return { x, modes: labelled };
}

/** Share of the squared deflection beyond the crossing. */
export function segmentShare(x: Float64Array, mode: Pick<BeamMode, 'deflection'>, crossing: number): number {
  let beyond = 0;
  let all = 0;
  for (let i = 1; i < x.length; i++) {
    const a = mode.deflection[i - 1] as number;
    const b = mode.deflection[i] as number;
    const e = (a * a + a * b + b * b) * ((x[i] as number) - (x[i - 1] as number));
    all += e;
    if ((x[i] as number) > crossing + 1e-9) beyond += e;
  }
  return beyond / all;
}

/** Transverse force a beam puts on its support: T·φ′ − EI·φ‴, from the end element's cubic; where it shears T·φ′ − EI·ψ″ with φ′ = ψ − EI·ψ″/κGA. */
export function endForce(
  x: Float64Array,
  m: Pick<BeamMode, 'deflection' | 'slope'>,
  inner: number,
  end: number,
  { bending, shearN }: { readonly bending: number; readonly shearN?: number },
  tensionN: number,
): number {
  const h = (x[end] as number) - (x[inner] as number);
  const v0 = m.deflection[inner] as number;
  const v1 = m.deflection[end] as number;
  const s0 = m.slope[inner] as number;
  const s1 = m.slope[end] as number;
  const compliance = shearN === undefined ? 0 : 1 / shearN;
  const third = ((12 * (v0 - v1)) / h ** 3 + (6 * (s0 + s1)) / h ** 2) / (1 + (12 * bending * compliance) / h ** 2);
  return tensionN * (s1 - bending * compliance * third) - bending * third;
}

/** Deflection at any place, linear between nodes. */
export function deflectionAt(x: Float64Array, values: Float64Array, at: number): number {
  let low = 0;
  let high = x.length - 1;
  if (at <= 0) return values[0] as number;
  if (at >= (x[high] as number)) return values[high] as number;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((x[middle] as number) <= at) low = middle;
    else high = middle;
  }
  const a = x[low] as number;
  const w = (at - a) / ((x[high] as number) - a);
  return (values[low] as number) * (1 - w) + (values[high] as number) * w;
}
