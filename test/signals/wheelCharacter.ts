import type { Random } from './random.ts';
import type { Plane, RimSupport } from './spokeModes.ts';

/** What all plucks of one wheel and one recording have in common. */
export interface WheelCharacter {
  /** One mode of the rim in each plane, felt at the nipple. */
  readonly rim: Readonly<Record<Plane, RimSupport & { readonly quality: number }>>;
  /** Friction of the crossing along the rim, N/m: the partner's stiffness along its own length. */
  readonly gripNPerM: number;
  /** Contact of the two spokes across the wheel, N/m. */
  readonly contactNPerM: number;
  /** Fingers that hold a crossing, N/m, and their loss factor. */
  readonly fingerNPerM: number;
  readonly fingerLoss: number;
  /** Loss factors of the end supports in the two planes and of the material. */
  readonly endLoss: Readonly<Record<Plane, number>>;
  readonly materialLoss: number;
  /** Energy that leaves into rim and hub a radian. */
  readonly leak: number;
  /** How much of the spoke's own stretch becomes tension: rim and hub give. */
  readonly stretchShare: number;
  /** Smooth random gain with which a force on rim or hub is heard. */
  response(plane: Plane, place: 'rim' | 'hub', hz: number): number;
  readonly microphoneLowHz: number;
  readonly microphoneHighHz: number;
  readonly reverbS: number;
  readonly wet: number;
}

/** Draws the character of a wheel and of the room it is plucked in. */
export function drawCharacter(random: Random, composite: boolean): WheelCharacter {
  const rimMode = (lowHz: number, highHz: number, lowKg: number, highKg: number) => {
    const massKg = random.logUniform(lowKg, highKg);
    const hz = random.logUniform(lowHz, highHz);
    return { massKg, stiffnessNPerM: massKg * (2 * Math.PI * hz) ** 2, quality: random.logUniform(15, 100) };
  };
  const responses = new Map<string, (hz: number) => number>();
  for (const plane of ['inPlane', 'across'] as const)
    for (const place of ['rim', 'hub'] as const)
      responses.set(
        plane + place,
        smoothResponse(random.fork(plane + place), (place === 'hub' ? -12 : 0) + random.normal(0, 3)),
      );
  const loss = (): number => random.logUniform(0.008, 0.08);
  return {
    rim: { inPlane: rimMode(900, 4000, 0.2, 0.8), across: rimMode(350, 2500, 0.12, 0.5) },
    gripNPerM: random.logUniform(1e6, 6e6),
    contactNPerM: random.logUniform(5e5, 5e6),
    fingerNPerM: random.logUniform(1e5, 1e6),
    fingerLoss: random.uniform(0.2, 0.8),
    endLoss: { inPlane: loss(), across: loss() },
    materialLoss: composite ? random.logUniform(2e-3, 8e-3) : random.logUniform(1e-4, 6e-4),
    leak: random.logUniform(2e-4, 2e-3),
    stretchShare: random.uniform(0.4, 0.8),
    response: (plane, place, hz) => (responses.get(plane + place) as (hz: number) => number)(hz),
    microphoneLowHz: random.logUniform(20, 200),
    microphoneHighHz: random.logUniform(7000, 20000),
    reverbS: random.logUniform(0.15, 0.6),
    wet: random.uniform(0.1, 0.6),
  };
}

/** Gain = a tilt plus seven slow ripples in the logarithm of frequency, about 5 dB in all. */
function smoothResponse(random: Random, meanDb: number): (hz: number) => number {
  const tilt = random.uniform(-3, 3);
  const ripples = Array.from({ length: 7 }, (_, k) => ({
    turns: (k + 1) * random.uniform(0.8, 1.2),
    db: random.normal(0, 2.6),
    phase: random.uniform(0, 2 * Math.PI),
  }));
  return (hz) => {
    const octaves = Math.log2(hz / 100);
    let db = meanDb + tilt * (octaves - 3);
    for (const r of ripples) db += r.db * Math.cos((2 * Math.PI * r.turns * octaves) / 7 + r.phase);
    return 10 ** (db / 20);
  };
}
