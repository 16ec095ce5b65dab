/**
 * What the tones themselves allow: the tension's posterior if the model were exact and every prior the truth's own (mass, length, crossing,
 * stiffness, shear, ends and their scatter as the wheels are drawn), all linear about the truth. No estimator can be nearer on the average.
 */
import { inverse, Matrix } from 'ml-matrix';
import { errorFunction } from 'simple-statistics';
import { SHEAR_SPREAD } from '../test/signals/catalogue.ts';
import { DEFAULT_ERRORS } from '../test/signals/drawWheel.ts';
import type { Piece } from '../test/signals/finiteElements.ts';
import { type Spoke, spokeModes } from '../test/signals/spokeModes.ts';
import type { RichWheel } from './richTrial.ts';

/** End springs are drawn log-uniform over 1–300 N·m/rad. */
const ENDS_SIGMA = Math.log(300) / Math.sqrt(12);
const END_SCATTER = 0.15;

/** Standard deviations of ln T, one a spoke. */
export interface Limits {
  /** Against the side's other spokes. */
  readonly own: number[];
  readonly whole: number[];
}

const longestOf = (pieces: readonly Piece[]): number =>
  pieces.reduce((best, p, i) => (p.lengthM > (pieces[best]?.lengthM ?? 0) ? i : best), 0);
const withPieces = (spoke: Spoke, change: (piece: Piece, isLongest: boolean) => Piece): Spoke => {
  const longest = longestOf(spoke.pieces);
  return { ...spoke, pieces: spoke.pieces.map((piece, i) => change(piece, i === longest)) };
};
const stiffer = (end: Spoke['hub'], factor: number): Spoke['hub'] => ({ ...end, inPlane: end.inPlane * factor });

/** Small changes of a spoke: what it becomes, by how much, and how unsure that is beforehand. */
const TENSION = { by: 0.01, change: (s: Spoke): Spoke => ({ ...s, tensionN: s.tensionN * Math.exp(0.01) }) };
const HUB = {
  by: 0.03,
  sigma: ENDS_SIGMA,
  change: (s: Spoke): Spoke => ({ ...s, hub: stiffer(s.hub, Math.exp(0.03)) }),
};
const RIM = {
  by: 0.03,
  sigma: ENDS_SIGMA,
  change: (s: Spoke): Spoke => ({ ...s, rim: stiffer(s.rim, Math.exp(0.03)) }),
};
const DESCRIPTION = [
  {
    by: 0.01,
    sigma: DEFAULT_ERRORS.massRelative,
    change: (s: Spoke) => withPieces(s, (p) => ({ ...p, massKgPerM: p.massKgPerM * 1.01 })),
  },
  {
    by: 0.0005,
    sigma: DEFAULT_ERRORS.lengthM,
    change: (s: Spoke) => withPieces(s, (p, isLongest) => (isLongest ? { ...p, lengthM: p.lengthM + 0.0005 } : p)),
  },
  {
    by: 0.02,
    sigma: DEFAULT_ERRORS.stiffnessRelative,
    change: (s: Spoke) => withPieces(s, (p) => ({ ...p, bendingInPlane: p.bendingInPlane * 1.02 })),
  },
  {
    by: 0.05,
    sigma: SHEAR_SPREAD,
    change: (s: Spoke) =>
      withPieces(s, (p) => (p.shearN === undefined ? p : { ...p, shearN: p.shearN * Math.exp(-0.05) })),
  },
  {
    by: 0.001,
    sigma: DEFAULT_ERRORS.crossingM,
    change: (s: Spoke): Spoke =>
      s.crossingFromHubM === undefined ? s : { ...s, crossingFromHubM: s.crossingFromHubM + 0.001 },
  },
];

/** ln f of the spoke's own modes 1..count in the plane. */
const lnTones = (spoke: Spoke, count: number): number[] =>
  spokeModes(spoke, 'inPlane', count * 2 + 1)
    .modes.filter((mode) => mode.family !== 'hub')
    .slice(0, count)
    .map((mode) => Math.log(mode.frequencyHz));

/** Limits of every spoke of a wheel for tones 1..count with relative noise. */
export const limitsOf = ({ wheel }: RichWheel, count: number, noise: number): Limits => {
  const own: number[] = [];
  const whole: number[] = [];
  for (const side of ['left', 'right']) {
    const shared = [HUB, RIM, ...DESCRIPTION];
    const information = Matrix.diag(shared.map(({ sigma }) => 1 / sigma ** 2));
    const spokes = wheel.spokes.filter((spoke) => spoke.side === side);
    const solved = spokes.map((spoke) => {
      const tones = lnTones(spoke, count);
      const columns = (changes: readonly { by: number; change: (s: Spoke) => Spoke }[]): Matrix =>
        new Matrix(
          changes.map(({ by, change }) => {
            const moved = lnTones(change(spoke), count);
            return tones.map((lnF, m) => ((moved[m] ?? lnF) - lnF) / by / noise);
          }),
        ).transpose();
      const ofSpoke = columns([TENSION, HUB, RIM]);
      const ofSide = columns(shared);
      const block = ofSpoke.transpose().mmul(ofSpoke);
      for (const end of [1, 2]) block.set(end, end, block.get(end, end) + END_SCATTER ** -2);
      const inverted = inverse(block);
      const coupling = ofSpoke.transpose().mmul(ofSide);
      information.add(ofSide.transpose().mmul(ofSide)).sub(coupling.transpose().mmul(inverted).mmul(coupling));
      return { variance: inverted.get(0, 0), lever: inverted.mmul(coupling).getRowVector(0) };
    });
    const common = inverse(information);
    for (const { variance, lever } of solved) {
      own.push(Math.sqrt(variance));
      whole.push(Math.sqrt(variance + lever.mmul(common).mmul(lever.transpose()).get(0, 0)));
    }
  }
  return { own, whole };
};

/** The p-quantile of |error| over normal errors of these standard deviations. */
export const quantileOfNormals = (sigmas: readonly number[], p: number): number => {
  let low = 0;
  let high = 5 * Math.max(...sigmas);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    const share = sigmas.reduce((sum, sigma) => sum + errorFunction(middle / (Math.SQRT2 * sigma)), 0) / sigmas.length;
    if (share < p) low = middle;
    else high = middle;
  }
  return low;
};
