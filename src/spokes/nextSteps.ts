import type { MeasureRefusal, Reading, UncertainInput } from '../contract.ts';

/** What a person can do about an input. */
export type Remedy =
  | 'hearAgain'
  | 'measureLength'
  | 'measureCrossing'
  | 'measureSections'
  | 'weighSpoke'
  | 'calibrate'
  | 'holdFirmly' // and pluck in several places, with a hard edge near the rim too
  | 'none';

const REMEDY: Record<UncertainInput, Remedy> = {
  frequency: 'hearAgain',
  mass: 'weighSpoke',
  length: 'measureLength',
  crossing: 'measureCrossing',
  sections: 'measureSections',
  stiffness: 'calibrate',
  hubEnd: 'calibrate',
  rimEnd: 'calibrate',
  shear: 'calibrate',
  numbering: 'holdFirmly',
  model: 'none',
  calibration: 'calibrate',
};

export interface NarrowingStep {
  readonly remedy: Remedy;
  readonly input: UncertainInput;
  /** Of the variance of a typical spoke, 0 to 1. */
  readonly share: number;
}

export interface NextSteps {
  /** Spokes to hear again, with why; by place. */
  readonly hearAgain: readonly {
    readonly spoke: number;
    readonly because: 'refused' | 'unsettled' | 'poorFit' | 'uncertain';
  }[];
  /** What would narrow the intervals most, largest first. */
  readonly narrow: readonly NarrowingStep[];
}

/** Residuals this improbable mean the sound or the description was not what was thought. */
const POOR_FIT = 0.001;
/** Own uncertainty this much over its side's median: a better pluck exists. */
const UNCERTAIN_FACTOR = 2;
/** Less than this of the variance is not worth a person's time. */
const LEAST_SHARE = 0.05;

/**
 * What to do next: spokes to hear again, and the inputs that most of the uncertainty comes from.
 *
 * @param readings By spoke number.
 * @param unsettled Spokes that were heard and did not settle.
 */
export function nextSteps(
  readings: ReadonlyMap<number, Reading | MeasureRefusal>,
  unsettled: readonly number[],
): NextSteps {
  const taken = [...readings].flatMap(([spoke, reading]) => (reading.ok ? [{ spoke, reading }] : []));
  const owns = taken.map(({ reading }) => reading.uOwnN / reading.tensionN).toSorted((a, b) => a - b);
  const typical = owns[Math.floor(owns.length / 2)] ?? 0;
  const because = (spoke: number, reading: Reading | MeasureRefusal | undefined) => {
    if (unsettled.includes(spoke)) return 'unsettled' as const;
    if (reading === undefined) return undefined;
    if (!reading.ok) return 'refused' as const;
    if (reading.agreement < POOR_FIT) return 'poorFit' as const;
    return reading.uOwnN / reading.tensionN > UNCERTAIN_FACTOR * typical ? ('uncertain' as const) : undefined;
  };
  const spokes = [...new Set([...readings.keys(), ...unsettled])].toSorted((a, b) => a - b);
  const hearAgain = spokes.flatMap((spoke) => {
    const why = because(spoke, readings.get(spoke));
    return why ? [{ spoke, because: why }] : [];
  });
  return { hearAgain, narrow: narrowingSteps(taken.map(({ reading }) => reading)) };
}

/** Mean share of each input in the variances of the readings. */
function narrowingSteps(readings: readonly Reading[]): readonly NarrowingStep[] {
  const shares = new Map<UncertainInput, number>();
  for (const { contributions } of readings) {
    const total = contributions.reduce((sum, one) => sum + one.uN ** 2, 0);
    if (total === 0) continue;
    for (const { input, uN } of contributions)
      shares.set(input, (shares.get(input) ?? 0) + uN ** 2 / total / readings.length);
  }
  return [...shares]
    .map(([input, share]): NarrowingStep => ({ remedy: REMEDY[input], input, share }))
    .filter((step) => step.share >= LEAST_SHARE)
    .toSorted((a, b) => b.share - a.share);
}
