import type { Reading, UncertainInput } from '../contract.ts';
import type { LaidSpoke } from './laidSpoke.ts';
import { COVERAGE } from './limitVerdict.ts';
import type { Side } from './wheel.ts';

/** Standard uncertainties of a hub's and a rim's stated dimensions, and of a stated angle. `common practice` */
const U_FLANGE_M = 0.0005;
const U_DISH_M = 0.0005;
const U_ANGLE_RAD = (0.2 * Math.PI) / 180;

export interface ExpectedRatio {
  /** Mean tension of the left over mean tension of the right. */
  readonly ratio: number;
  readonly u: number;
}
export interface SideRatio {
  readonly expected: ExpectedRatio;
  readonly measured: { readonly ratio: number; readonly u: number };
  /** Within twice both uncertainties of each other. */
  readonly agrees: boolean;
  /** Measured over expected, minus one, percent. */
  readonly offPercent: number;
}

/**
 * The ratio of the sides' mean tensions that the hub's geometry demands.
 *
 * The rim stays in its plane only if the sideways pulls of both sides cancel: Σ T sin γ left = Σ T sin γ right, γ the bracing angle of each
 * spoke; with equal tensions in a side T̄_L/T̄_R = Σ sin γ_R / Σ sin γ_L. Flange distances and dish carry 0.5 mm each.
 *
 * @returns undefined where a bracing angle is not known or a side pulls the wrong way.
 * @source Lateral equilibrium of the rim (from memory; any statics text)
 * @validity Rim true and dished. A rim that stands off its plane carries the difference by its own stiffness.
 */
export function expectedSideRatio(spokes: readonly LaidSpoke[]): ExpectedRatio | undefined {
  const pull = (side: Side) => {
    const own = spokes.filter((spoke) => spoke.side === side);
    let sum = 0;
    let perMetre = 0;
    let angles = 0;
    for (const spoke of own) {
      if (spoke.bracingAngle === undefined || spoke.supportLength === undefined) return undefined;
      sum += Math.sin(spoke.bracingAngle);
      // A listed angle is uncertain itself, a laced one through the distances it comes from.
      if (spoke.schematic) angles += U_ANGLE_RAD;
      else perMetre += 1 / spoke.supportLength;
    }
    return own.length > 0 && sum > 0 ? { sum, perMetre, angles } : undefined;
  };
  const left = pull('left');
  const right = pull('right');
  if (left === undefined || right === undefined) return undefined;
  const ratio = right.sum / left.sum;
  const flange = Math.hypot((U_FLANGE_M * left.perMetre) / left.sum, (U_FLANGE_M * right.perMetre) / right.sum);
  // A rim off its plane comes nearer to one flange by what it leaves the other.
  const dish = U_DISH_M * (left.perMetre / left.sum + right.perMetre / right.sum);
  const angles = Math.hypot(left.angles / left.sum, right.angles / right.sum);
  return { ratio, u: ratio * Math.hypot(flange, dish, angles) };
}

/**
 * Lays the measured ratio of the sides beside the expected one.
 *
 * @param sameKind Both sides have the same spokes: then errors of mass and stiffness are common to both and cancel.
 */
export function sideRatio(
  expected: ExpectedRatio,
  readings: { readonly left: readonly Reading[]; readonly right: readonly Reading[] },
  sameKind: boolean,
): SideRatio | undefined {
  if (readings.left.length === 0 || readings.right.length === 0) return undefined;
  const left = sideMean(readings.left, sameKind);
  const right = sideMean(readings.right, sameKind);
  const ratio = left.mean / right.mean;
  const u = ratio * Math.hypot(left.uRelative, right.uRelative);
  const apart = ratio - expected.ratio;
  return {
    expected,
    measured: { ratio, u },
    agrees: Math.abs(apart) <= COVERAGE * Math.hypot(u, expected.u),
    offPercent: 100 * (ratio / expected.ratio - 1),
  };
}

/** What two sides of one kind are off in alike. */
const OF_KIND: ReadonlySet<UncertainInput> = new Set(['mass', 'stiffness', 'shear']);

function sideMean(
  readings: readonly Reading[],
  sameKind: boolean,
): { readonly mean: number; readonly uRelative: number } {
  const count = readings.length;
  const mean = readings.reduce((sum, reading) => sum + reading.tensionN, 0) / count;
  const own = Math.sqrt(readings.reduce((sum, reading) => sum + reading.uOwnN ** 2, 0)) / count;
  const common = readings.reduce((sum, reading) => {
    const cancels = reading.contributions.reduce(
      (variance, part) =>
        sameKind && part.scope === 'common' && OF_KIND.has(part.input) ? variance + part.uN ** 2 : variance,
      0,
    );
    return sum + Math.sqrt(Math.max(0, reading.uCommonN ** 2 - cancels));
  }, 0);
  return { mean, uRelative: Math.hypot(own, common / count) / mean };
}
