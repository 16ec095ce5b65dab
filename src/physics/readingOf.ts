import type { Assigned, Contribution, Reading, UncertainInput } from '../contract.ts';
import { type Hertz, newtons } from '../units.ts';
import { chiSquareTail } from './chiSquareTail.ts';
import type { FitSpoke, FittedSpoke } from './fitLine.ts';
import type { HeardTone } from './heardTones.ts';
import { combAt, type Numbering, tableOfMode } from './numbering.ts';
import type { SpokeTones } from './spokeTones.ts';

/** What goes into one spoke's reading. */
export interface ReadingParts {
  readonly spoke: SpokeTones;
  readonly tones: readonly HeardTone[];
  readonly numbering: Numbering;
  readonly fitSpoke: FitSpoke;
  readonly fitted: FittedSpoke;
  /** Where the comb is looked up: the heaviest node and the spoke's ln T there. */
  readonly node: number;
  readonly lnTAtNode: number;
  readonly chi2: number;
  readonly degreesOfFreedom: number;
  /** Rival numberings mixed in: shift of the mean and added variance of ln T. */
  readonly rivals: { readonly shift: number; readonly variance: number };
}

/**
 * Turns a fit of ln T into a reading in newtons: mean of the mixture, own and common standard uncertainty, contributions.
 * @source JCGM 100:2008 (GUM), 5.1 and 5.2
 */
export const readingOf = (parts: ReadingParts): Reading => {
  const { fitted, numbering, tones, spoke } = parts;
  const lnT = fitted.lnT + parts.rivals.shift;
  const tension = Math.exp(lnT);
  const own = fitted.varOwn + parts.rivals.variance;
  const contributions: Contribution[] = [];
  const put = (input: UncertainInput, variance: number, scope: 'own' | 'common'): void => {
    if (variance > 1e-12) contributions.push({ input, uN: newtons(tension * Math.sqrt(variance)), scope });
  };
  for (const [input, variance] of merged(fitted.ownParts, numbering)) put(input, variance, 'own');
  put('numbering', parts.rivals.variance, 'own');
  for (const [input, variance] of merged(fitted.commonParts, numbering)) put(input, variance, 'common');
  contributions.sort((a, b) => b.uN - a.uN);
  return {
    ok: true,
    tensionN: newtons(tension),
    uOwnN: newtons(tension * Math.sqrt(own)),
    uCommonN: newtons(tension * Math.sqrt(fitted.varCommon)),
    assignment: assignmentOf(parts, numbering, tones, spoke),
    agreement: chiSquareTail(parts.chi2, parts.degreesOfFreedom),
    contributions,
  };
};

/** Variances by what the person knows as one input: the first axis of a held crossing's table is its support. */
const merged = (parts: Readonly<Record<string, number>>, { comb }: Numbering): Map<UncertainInput, number> => {
  const support = comb.table.firstAxis === 'support';
  const out = new Map<UncertainInput, number>();
  for (const [part, variance] of Object.entries(parts)) {
    const swapped =
      part === 'second' ? (support ? 'hubEnd' : 'crossing') : part === 'hubEnd' && support ? 'crossing' : part;
    const input = swapped as UncertainInput;
    out.set(input, (out.get(input) ?? 0) + variance);
  }
  return out;
};

const assignmentOf = (
  parts: ReadingParts,
  numbering: Numbering,
  tones: readonly HeardTone[],
  spoke: SpokeTones,
): Assigned[] => {
  const { comb } = numbering;
  const at = combAt(comb, parts.node, parts.lnTAtNode);
  const lineOf = (m: number): number => {
    const { table, mode } = tableOfMode(comb, m);
    return parts.fitSpoke.lines.findIndex((line) => line.table === table && line.mode === mode);
  };
  const perMode = new Map<number, number>();
  for (const m of numbering.modes) if (m > 0) perMode.set(m - 1, (perMode.get(m - 1) ?? 0) + 1);
  const out: Assigned[] = [];
  let offset = 0;
  spoke.plucks.forEach((pluck, p) => {
    pluck.tones.forEach((tone, index) => {
      const j = tones.findIndex((t) => t.pluck === p && t.index === index);
      const mode = j < 0 ? 0 : (numbering.modes[j] as number);
      const line = mode > 0 ? lineOf(mode - 1) : -1;
      if (line < 0) {
        out.push(foreign(offset + index, tone.frequencyHz));
        return;
      }
      const m = mode - 1;
      const beyond = parts.fitted.residuals[line] as number;
      const modelled = (parts.fitSpoke.lines[line]?.lnF as number) - beyond;
      out.push({
        toneIndex: offset + index,
        frequencyHz: tone.frequencyHz,
        mode: at.number[m] as number,
        plane: tableOfMode(comb, m).table.plane,
        family: at.inside[m] === 0 ? 'hub' : comb.family,
        residualPercent: 100 * Math.expm1(Math.log(tone.frequencyHz) - modelled),
        weight: (parts.fitted.gains[line] as number) / (perMode.get(m) ?? 1),
      });
    });
    offset += pluck.tones.length;
  });
  return out;
};

const foreign = (toneIndex: number, frequencyHz: Hertz): Assigned => ({
  toneIndex,
  frequencyHz,
  mode: 0,
  plane: 'unknown',
  family: 'segment',
  weight: 0,
});
