import { drawEnds, isComposite, KINDS, type Kind, piecesOf, scatterEnds } from './catalogue.ts';
import type { Piece } from './finiteElements.ts';
import { type Random, seededRandom } from './random.ts';
import type { WheelSpoke } from './round.ts';

export interface DrawnWheel {
  readonly kind: Kind;
  /** The truth, in the order round the rim, left and right in turn. */
  readonly spokes: readonly WheelSpoke[];
  /** What the person believes: same order, mass, length, crossing and stiffness off by one draw a side, shear the usual one; ends and tension unknown. */
  readonly described: readonly { readonly pieces: readonly Piece[]; readonly crossingFromHubM?: number }[];
  /** Spokes (from 1) set apart from their side by 15–40 %. */
  readonly outliers: readonly number[];
}
export interface WheelDraw {
  readonly kinds?: readonly Kind[];
  readonly spokeCounts?: readonly number[];
  readonly crossed?: boolean;
  /** Relative scatter of each end spring from spoke to spoke. */
  readonly endScatter?: number;
  /** Standard errors of the description. */
  readonly errors?: { massRelative: number; lengthM: number; crossingM: number; stiffnessRelative: number };
}

export const DEFAULT_ERRORS = { massRelative: 0.01, lengthM: 0.0005, crossingM: 0.0015, stiffnessRelative: 0.03 };

/** A whole wheel from the catalogue with what a person would write down about it. Partners: a spoke touches one of its own side, three places on. */
export function drawWheel(seed: string | number, draw: WheelDraw = {}): DrawnWheel {
  const random = seededRandom(`wheel|${seed}`);
  const kind = random.pick(draw.kinds ?? KINDS);
  const count = random.pick(draw.spokeCounts ?? (isComposite(kind) ? [20, 24] : [24, 28, 32]));
  const errors = draw.errors ?? DEFAULT_ERRORS;
  const crossed = draw.crossed ?? random.chance(isComposite(kind) ? 0.3 : 0.75);
  const small = random.chance(kind === 'plain2.3' ? 0.6 : 0.1);
  const lengthM = small ? random.uniform(0.14, 0.2) : random.uniform(0.2, 0.3);
  const slack = random.uniform(0.5, 0.95);
  const tight = random.uniform(650, 1300);
  const ends = drawEnds(random);
  const sides = (['left', 'right'] as const).map((side, k) => {
    const own = random.fork(side);
    const sideLengthM = lengthM - k * random.uniform(0, 0.004);
    const crossing = sideLengthM * own.uniform(0.17, 0.3);
    return {
      side,
      pieces: piecesOf(kind, sideLengthM, random.fork('pieces')),
      usual: piecesOf(kind, sideLengthM, random.fork('pieces'), 1),
      crossing: crossed ? crossing : undefined,
      mean: side === 'right' ? tight : tight * slack,
      off: drawErrors(own, errors),
    };
  });
  const outliers = new Set<number>();
  while (outliers.size < 2) outliers.add(random.integer(1, count));
  const spokes: WheelSpoke[] = [];
  const described: { pieces: readonly Piece[]; crossingFromHubM?: number }[] = [];
  for (let i = 0; i < count; i++) {
    const side = sides[i % 2] as (typeof sides)[number];
    const own = random.fork(`spoke${i}`);
    const outlier = outliers.has(i + 1) ? 1 + own.sign() * own.uniform(0.15, 0.4) : 1;
    spokes.push({
      side: side.side,
      kind,
      pieces: side.pieces,
      tensionN: Math.min(1600, Math.max(120, side.mean * outlier * (1 + own.normal(0, 0.05)))),
      ...scatterEnds(ends, draw.endScatter ?? 0.15, own),
      ...(side.crossing === undefined ? {} : { crossingFromHubM: side.crossing, partner: partnerOf(i, count) + 1 }),
    });
    described.push(describe(side.usual, side.crossing, side.off));
  }
  return { kind, spokes, described, outliers: [...outliers].sort((a, b) => a - b) };
}

/** Touching spokes come in pairs: heads in and out in turn, the outermost crossing three places on along the same side. */
function partnerOf(index: number, count: number): number {
  const place = Math.floor(index / 2);
  const places = count / 2;
  const other = place % 2 === 0 ? (place + 3) % places : (place - 3 + places) % places;
  return other * 2 + (index % 2);
}

type Off = ReturnType<typeof drawErrors>;
const drawErrors = (random: Random, e: typeof DEFAULT_ERRORS) => ({
  mass: 1 + random.normal(0, e.massRelative),
  lengthM: random.normal(0, e.lengthM),
  crossingM: random.normal(0, e.crossingM),
  stiffness: 1 + random.normal(0, e.stiffnessRelative),
});

/** The longest piece takes the error of length. */
function describe(pieces: readonly Piece[], crossing: number | undefined, off: Off): DrawnWheel['described'][number] {
  const longest = pieces.reduce((best, p, i) => (p.lengthM > (pieces[best]?.lengthM ?? 0) ? i : best), 0);
  return {
    pieces: pieces.map((p, i) => ({
      lengthM: p.lengthM + (i === longest ? off.lengthM : 0),
      massKgPerM: p.massKgPerM * off.mass,
      bendingInPlane: p.bendingInPlane * off.stiffness,
      bendingAcross: p.bendingAcross * off.stiffness,
      axialN: p.axialN,
      ...(p.shearN === undefined ? {} : { shearN: p.shearN }),
    })),
    ...(crossing === undefined ? {} : { crossingFromHubM: crossing + off.crossingM }),
  };
}
