import type { Member } from '../physics/member.ts';
import {
  type Hertz,
  type KilogramsPerMetre,
  kilogramsPerMetre,
  type Metres,
  metres,
  type NewtonMetresSquared,
  type Newtons,
  newtonMetresSquared,
  newtons,
} from '../units.ts';

/** Between which tensions a tone leaves a spoke, with every figure that a calculator wants. */
export interface WorkedBounds {
  /** From the crossing to the rim's support, or the whole spoke. */
  readonly freeLength: Metres;
  /** Each piece counted by how far the lowest tone moves it, sin²(πx/L). */
  readonly massPerLength: KilogramsPerMetre;
  /** In the plane of the tone, each piece counted likewise. */
  readonly bending: NewtonMetresSquared;
  /** 4 μ L² f². */
  readonly string: Newtons;
  /** Both ends turning freely: 4 μ L² f² − π² EI/L². */
  readonly pinned: Newtons;
  /** Both ends held from turning, stiff end pieces as part of the hold: no end does more. Absent: so held it would ring higher slack. */
  readonly clamped?: {
    readonly tension: Newtons;
    readonly length: Metres;
    readonly massPerLength: KilogramsPerMetre;
    readonly bending: NewtonMetresSquared;
  };
}

const STEPS = 60;
/** An end piece so much stiffer than the longest one moves as a part of its support. */
const RIGID = 4;
/** Longer ones are a part of the wire: a nipple shows less. */
const LONGEST_HOLD_M = 0.02;

/**
 * Between which tensions a tone leaves a stiff, stepped spoke, whatever its ends do: two formulas that a reader follows with a calculator.
 *
 * Pinned: T = 4 μ L² f² − π² EI/L², exact for a uniform wire; for pieces, μ and EI are their means over the lowest shape sin²(πx/L) (Rayleigh).
 * Clamped, the least that the tone can mean: f = 1/(2L') √(T/μ') · √(1 + B) · (1 + (2/π) √B + (4/π²) B), B = π² EI'/(T L'²), solved for T by
 * repetition, L' without stiff end pieces, μ' the least and EI' the largest of the pieces left.
 *
 * @param first Lowest tone of the part that rings.
 * @param plane In which that tone moves.
 * @returns undefined for a tone below the bending tone.
 * @source Fletcher, J. Acoust. Soc. Am. 36 (1964) 203 (stiff string, pinned and clamped ends); Rayleigh, The Theory of Sound, § 89
 * @validity Slender; shear of composite is left out, which would lift the pinned form by up to 1.3 % (4 mm, 140 mm, 1000 N); the clamped form leaves out terms of B^1.5: to 1 % of tension while B < 0.07.
 */
export function workedBounds(
  member: Member,
  first: Hertz,
  plane: 'inPlane' | 'across' = 'inPlane',
): WorkedBounds | undefined {
  const pieces = ringingPieces(member, plane);
  const length = pieces.reduce((sum, piece) => sum + piece.length, 0);
  let at = 0;
  let mass = 0;
  let bending = 0;
  for (const piece of pieces) {
    const share = sineShare(at / length, (at + piece.length) / length);
    mass += share * piece.mass;
    bending += share * piece.bending;
    at += piece.length;
  }
  const string = 4 * mass * (length * first) ** 2;
  const pinned = string - (Math.PI ** 2 * bending) / length ** 2;
  const longest = pieces.reduce((best, piece) => (piece.length > best.length ? piece : best));
  const [left, right] = [pieces[0], pieces.at(-1)].map(
    (piece) => piece !== undefined && piece.length < LONGEST_HOLD_M && piece.bending > RIGID * longest.bending,
  );
  const soft = pieces.slice(left ? 1 : 0, right ? -1 : undefined);
  const shortened = soft.reduce((sum, piece) => sum + piece.length, 0);
  const least = Math.min(...soft.map((piece) => piece.mass));
  const most = Math.max(...soft.map((piece) => piece.bending));
  const clamped = clampedTension(4 * least * (shortened * first) ** 2, (Math.PI ** 2 * most) / shortened ** 2);
  if (!(pinned > 0)) return undefined;
  return {
    freeLength: metres(length),
    massPerLength: kilogramsPerMetre(mass),
    bending: newtonMetresSquared(bending),
    string: newtons(string),
    pinned: newtons(pinned),
    ...(clamped === undefined
      ? {}
      : {
          clamped: {
            tension: newtons(clamped),
            length: metres(shortened),
            massPerLength: kilogramsPerMetre(least),
            bending: newtonMetresSquared(most),
          },
        }),
  };
}

function ringingPieces(
  member: Member,
  plane: 'inPlane' | 'across',
): readonly { readonly length: number; readonly mass: number; readonly bending: number }[] {
  const from = member.crossingFromHub ?? 0;
  let at = 0;
  return member.sections.flatMap((section) => {
    const ringing = Math.min(section.length, at + section.length - from);
    at += section.length;
    return ringing > 0
      ? [
          {
            length: ringing,
            mass: section.massPerLength,
            bending: plane === 'inPlane' ? section.bendingInPlane : section.bendingAcross,
          },
        ]
      : [];
  });
}

/** Mean of 2 sin²(πx) from one share of the length to another, times that share: all pieces together give 1. */
const sineShare = (from: number, to: number): number =>
  to - from - (Math.sin(2 * Math.PI * to) - Math.sin(2 * Math.PI * from)) / (2 * Math.PI);

/** @returns undefined where no tension is left. */
function clampedTension(string: number, stiff: number): number | undefined {
  let tension = Math.max(string - stiff, stiff);
  for (let i = 0; i < STEPS; i++) {
    const b = stiff / tension;
    const factor = Math.sqrt(1 + b) * (1 + (2 / Math.PI) * Math.sqrt(b) + (4 / Math.PI ** 2) * b);
    // Half way each time: the plain repetition swings on stiff, slack spokes.
    tension = (tension + string / factor ** 2) / 2;
    if (!(tension > 1e-9 * stiff)) return undefined;
  }
  return tension;
}
