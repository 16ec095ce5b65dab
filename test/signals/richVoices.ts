import { pairModes } from './crossedPair.ts';
import { beamModes } from './finiteElements.ts';
import type { Partial } from './partials.ts';
import type { Random } from './random.ts';
import {
  beamOf,
  endForce,
  type Family,
  type Plane,
  ringingLengthM,
  type Spoke,
  segmentShare,
  spokeLengthM,
} from './spokeModes.ts';
import { coordinateOf, drawTouch, normalised, type Voices } from './voices.ts';
import type { WheelCharacter } from './wheelCharacter.ts';

/** How the spoke is plucked: as in the trade's two directions, and whether fingers hold the crossing. */
export interface RichHow {
  readonly crossing: 'held' | 'free' | 'none';
  readonly direction: 'inPlane' | 'across';
}

/** One mode as it takes part in a pluck. */
interface Part {
  readonly plane: Plane;
  readonly family: Family;
  readonly frequencyHz: number;
  readonly decayS: number;
  /** Modal coordinate for unit force of the finger. */
  readonly coordinate: number;
  readonly atTouch: number;
  readonly stretch: number;
  /** Heard amplitude for unit modal coordinate. */
  readonly heard: number;
  /** More the rim's own mode than the spoke's. */
  readonly ofRim: boolean;
}

const COUNT = { alone: 12, pair: 16 } as const;

/**
 * A pluck with the physics that the plain sets leave out. Along the rim the crossing is locked by friction; across the wheel the touching
 * pair moves together, stiffened and damped by the fingers where they hold it; the rim has a mode of its own; damping comes from where each
 * mode stores its energy; both planes sound; the tension of the moment (rim give included) raises every tone by its own share.
 */
export function richVoices(
  random: Random,
  spoke: Spoke,
  partner: Spoke | undefined,
  how: RichHow,
  wheel: WheelCharacter,
  maximumHz: number,
): Voices & { readonly glideFirst: number } {
  const character = asTouched(random, wheel);
  const touch = drawTouch(random, spoke);
  const angle = random.normal(0, 0.2) + (how.direction === 'across' ? Math.PI / 2 : 0);
  const touching = partner !== undefined && spoke.crossingFromHubM !== undefined && how.crossing !== 'none';
  const bare = touching ? spoke : { ...spoke, crossingFromHubM: undefined };
  const parts = (['inPlane', 'across'] as const).flatMap((plane) => {
    const share = plane === 'inPlane' ? Math.cos(angle) : Math.sin(angle);
    const found =
      touching && plane === 'across'
        ? pairParts(spoke, partner, how, character, touch)
        : aloneParts(bare as Spoke, plane, touching ? how : { ...how, crossing: 'none' }, character, touch);
    return found.filter((p) => p.frequencyHz < maximumHz).map((p) => ({ ...p, coordinate: p.coordinate * share }));
  });
  const still = parts.reduce((sum, p) => sum + Math.abs(p.coordinate * p.atTouch), 0);
  const deflectionM = random.logUniform(0.15e-3, 1.2e-3) * (ringingLengthM(spoke) / 0.2);
  const force = deflectionM / still;
  const compliance = spoke.pieces.reduce((sum, p) => sum + p.lengthM / p.axialN, 0);
  const springN = (character.stretchShare / compliance) * 0.25;
  const raises = parts.map((p) => springN * p.stretch * (force * p.coordinate) ** 2);
  const loud = raises.map((r, k) => [r, k] as const).sort((a, b) => b[0] - a[0]);
  const partials: Partial[] = parts.map((p, m) => {
    const omega2 = (2 * Math.PI * p.frequencyHz) ** 2;
    const felt = p.stretch / (2 * omega2);
    const glides = loud.slice(0, 3).map(([raise, k]) => ({
      relative: raise * felt * (k === m ? 1.5 : 1),
      decayS: (parts[k] as Part).decayS / 2,
    }));
    return {
      frequencyHz: p.frequencyHz,
      amplitude: Math.abs(p.coordinate) * p.heard,
      decayS: p.decayS,
      phase: random.pick([0, Math.PI]) + random.normal(0, 0.5),
      glides: glides.filter((g) => Math.abs(g.relative) > 1e-7),
      riseS: 0.0003,
    };
  });
  const counters = new Map<string, number>();
  const tones = parts.map((p) => {
    const key = p.plane + p.family;
    const mode = p.ofRim ? 0 : (counters.get(key) ?? 0) + 1;
    if (!p.ofRim) counters.set(key, mode);
    return { mode, plane: p.plane, family: p.family, frequencyHz: p.frequencyHz, decayS: p.decayS };
  });
  const mates = tones.map((t) =>
    tones.findIndex((u) => t.mode > 0 && u.plane !== t.plane && u.family === t.family && u.mode === t.mode),
  );
  const first = tones.findIndex((t) => t.mode === 1 && (t.family === 'segment' || t.family === 'whole'));
  const glideFirst = partials[first]?.glides.reduce((sum, g) => sum + g.relative, 0) ?? 0;
  return { ...normalised({ partials, tones, mates }), glideFirst };
}

/** No two grips are alike: fingers ± 30 %, friction and contact ± 15 % from pluck to pluck. */
function asTouched(random: Random, wheel: WheelCharacter): WheelCharacter {
  return {
    ...wheel,
    fingerNPerM: wheel.fingerNPerM * Math.exp(random.normal(0, 0.3)),
    gripNPerM: wheel.gripNPerM * Math.exp(random.normal(0, 0.15)),
    contactNPerM: wheel.contactNPerM * Math.exp(random.normal(0, 0.15)),
  };
}

type Losses = { ends: number; hold: number; rim: number; bending: number };

/** τ = 2Q/ω with 1/Q = Σ loss factor · share of the stored energy, plus the leak into the wheel and the air. */
function decayTime(frequencyHz: number, e: Losses, plane: Plane, character: WheelCharacter, holdLoss: number): number {
  const omega = 2 * Math.PI * frequencyHz;
  const shares = 1 / (omega * omega);
  const inverseQ =
    character.leak +
    shares *
      (character.endLoss[plane] * e.ends +
        holdLoss * e.hold +
        e.rim / character.rim[plane].quality +
        character.materialLoss * e.bending);
  return 2 / (omega * inverseQ);
}

/** Sound of one mode for unit coordinate: force on rim and hub, and the rim's own movement. */
function heardOf(
  spoke: Spoke,
  plane: Plane,
  x: Float64Array,
  deflection: Float64Array,
  slope: Float64Array,
  frequencyHz: number,
  character: WheelCharacter,
): number {
  const shape = { deflection, slope };
  const { pieces } = beamOf(spoke, plane);
  const [first, end] = [pieces[0], pieces.at(-1)];
  if (!first || !end) throw new RangeError('a spoke needs at least one piece');
  const last = x.length - 1;
  const rimForce = endForce(x, shape, last - 1, last, end, spoke.tensionN);
  const hubForce = endForce(x, shape, 1, 0, first, spoke.tensionN);
  const omega = 2 * Math.PI * frequencyHz;
  const rimMoves = character.rim[plane].massKg * omega * omega * (deflection[last] as number);
  return (
    character.response(plane, 'rim', frequencyHz) * (0.5 * Math.abs(rimForce) + 0.5 * Math.abs(rimMoves)) +
    character.response(plane, 'hub', frequencyHz) * Math.abs(hubForce)
  );
}

function aloneParts(
  spoke: Spoke,
  plane: Plane,
  how: RichHow,
  character: WheelCharacter,
  touch: ReturnType<typeof drawTouch>,
): Part[] {
  const crossing = how.crossing === 'none' ? undefined : spoke.crossingFromHubM;
  const rim = character.rim[plane];
  const held = character.gripNPerM + (how.crossing === 'held' ? character.fingerNPerM : 0);
  const beam = beamOf(spoke, plane, rim);
  const supports = crossing === undefined ? {} : { supports: [{ atM: crossing, stiffnessNPerM: held }] };
  const { x, modes } = beamModes({ ...beam, ...supports }, COUNT.alone, 0.006);
  const node = crossing === undefined ? -1 : x.findIndex((v) => Math.abs(v - crossing) < 1e-8);
  // Friction loses a little; only the fingers' share of the hold loses much.
  const holdLoss = how.crossing === 'held' ? 0.02 + (character.fingerLoss * character.fingerNPerM) / held : 0.02;
  return modes.map((m) => {
    const omega2 = (2 * Math.PI * m.frequencyHz) ** 2;
    const last = x.length - 1;
    const one = (k: number, theta: number): number => (Number.isFinite(k) ? k * theta * theta : 0);
    const ends = one(beam.hubSpring, m.slope[0] as number) + one(beam.rimSpring, m.slope[last] as number);
    const hold = node < 0 ? 0 : held * (m.deflection[node] as number) ** 2;
    const rimEnergy = rim.stiffnessNPerM * (m.deflection[last] as number) ** 2;
    const bending = Math.max(0, omega2 - ends - hold - rimEnergy - spoke.tensionN * m.stretch);
    const family: Family = crossing === undefined ? 'whole' : segmentShare(x, m, crossing) >= 0.5 ? 'segment' : 'hub';
    return {
      plane,
      family,
      frequencyHz: m.frequencyHz,
      decayS: decayTime(m.frequencyHz, { ends, hold, rim: rimEnergy, bending }, plane, character, holdLoss),
      coordinate: coordinateOf(x, m.deflection, m.frequencyHz, touch, spokeLengthM(spoke)),
      atTouch: coordinateOf(x, m.deflection, m.frequencyHz, { ...touch, releaseS: 0 }, spokeLengthM(spoke)) * omega2,
      stretch: m.stretch,
      ofRim: rim.massKg * (m.deflection[last] as number) ** 2 > 0.5,
      heard: heardOf(spoke, plane, x, m.deflection, m.slope, m.frequencyHz, character),
    };
  });
}

function pairParts(
  spoke: Spoke,
  partner: Spoke,
  how: RichHow,
  character: WheelCharacter,
  touch: ReturnType<typeof drawTouch>,
): Part[] {
  const plane = 'across';
  const crossing = spoke.crossingFromHubM ?? 0;
  const finger = how.crossing === 'held' ? character.fingerNPerM / 2 : 0;
  const hold = { contact: character.contactNPerM, groundA: finger, groundB: finger };
  const { xA, modes } = pairModes(spoke, partner, plane, hold, COUNT.pair, character.rim[plane]);
  const holdLoss = how.crossing === 'held' ? character.fingerLoss : 0.03;
  return modes.map((m) => {
    const omega2 = (2 * Math.PI * m.frequencyHz) ** 2;
    const most = m.a.reduce((max, v) => Math.max(max, Math.abs(v)), 1e-12);
    const still = Math.abs(m.crossingA) < 0.15 * most;
    const family: Family = !still ? 'pair' : segmentShare(xA, { deflection: m.a }, crossing) >= 0.5 ? 'segment' : 'hub';
    const coordinate = coordinateOf(xA, m.a, m.frequencyHz, touch, spokeLengthM(spoke));
    return {
      plane,
      family,
      frequencyHz: m.frequencyHz,
      decayS: decayTime(m.frequencyHz, m.energy, plane, character, holdLoss),
      coordinate,
      atTouch: coordinateOf(xA, m.a, m.frequencyHz, { ...touch, releaseS: 0 }, spokeLengthM(spoke)) * omega2,
      stretch: m.stretchA,
      ofRim: character.rim[plane].massKg * ((m.a.at(-1) as number) ** 2 + (m.b.at(-1) as number) ** 2) > 0.5,
      heard: heardOf(spoke, plane, xA, m.a, m.slopeA, m.frequencyHz, character),
    };
  });
}
