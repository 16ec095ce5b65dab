import type { FitSpoke } from './fitLine.ts';
import { ORDINARY, ordinaryWeight } from './sharedErrors.ts';

/** One generalised least-squares step in ln T; the same object is written again at every node. */
export interface TensionStep {
  /** Towards the optimum, no longer than `LONGEST_STEP`. */
  shift: number;
  /** Information on ln T, 1/variance. */
  information: number;
  chi2: number;
  /** ln of the evidence with ln T flat, if the tones are linear over the step. */
  lnEvidence: number;
}
export const newStep = (): TensionStep => ({ shift: 0, information: 1, chi2: 0, lnEvidence: 0 });

/** The longest step of ln T that is taken at once. */
export const LONGEST_STEP = 0.5;
/** A step of ln T within which a tone is linear in it to 0.003 %, and how often one is tried. */
export const LINEAR = 0.04;
export const MOST_PASSES = 5;
const LN_2PI = Math.log(2 * Math.PI);

/**
 * Weighs lines, the ordinary tension and a known one, about `lnT`.
 * @param J ∂ln f/∂ln T of each line, `r` residuals, `a` V⁻¹·J, `b` V⁻¹·r
 * @param lnVolume ln |V|
 * @source Aitken, Proc. R. Soc. Edinburgh 55 (1936), 42 (generalised least squares)
 */
export const stepTension = (
  { known, lines }: FitSpoke,
  lnT: number,
  J: Float64Array,
  r: Float64Array,
  a: Float64Array,
  b: Float64Array,
  lnVolume: number,
  out: TensionStep,
): void => {
  const n = lines.length;
  const weak = ORDINARY.lnT - lnT;
  let information = ordinaryWeight(lnT);
  let top = information * weak;
  let chi2 = information * weak * weak;
  let observations = n;
  let lnDeterminant = lnVolume;
  for (let l = 0; l < n; l++) {
    information += (J[l] as number) * (a[l] as number);
    top += (r[l] as number) * (a[l] as number);
    chi2 += (r[l] as number) * (b[l] as number);
  }
  if (known !== undefined) {
    const w = 1 / known.sigma ** 2;
    const d = known.lnT - lnT;
    information += w;
    top += w * d;
    chi2 += w * d * d;
    lnDeterminant -= Math.log(w);
    observations++;
  }
  out.shift = Math.min(Math.max(top / information, -LONGEST_STEP), LONGEST_STEP);
  out.information = information;
  out.chi2 = Math.max(chi2 - top * out.shift, 0);
  out.lnEvidence = -0.5 * (out.chi2 + lnDeterminant + Math.log(information) + (observations - 1) * LN_2PI);
};
