import { COVERAGE } from './limitVerdict.ts';

export type EvennessWord = 'even' | 'tight' | 'slack' | 'probablyTight' | 'probablySlack' | 'cannotBeCleared';

export interface EvennessVerdict {
  readonly word: EvennessWord;
  /** Of the spoke from its side's mean, percent of the mean. */
  readonly deviationPercent: number;
  /** Expanded, k = 2, of the deviation: what varies from spoke to spoke, for what is common cancels. */
  readonly expandedPercent: number;
}

/** One spoke of a side; any unit, the same for all. */
export interface Deviating {
  readonly value: number;
  /** Standard uncertainty of what varies from spoke to spoke. */
  readonly uOwn: number;
}

/**
 * Judges the spokes of one side against its mean.
 *
 * The mean is the arithmetic mean of all spokes given, the outlying ones too; a spoke is part of its own mean, which its deviation's
 * uncertainty takes into account: var(Tᵢ − mean) = (1 − 1/n)² uᵢ² + Σⱼ≠ᵢ uⱼ²/n².
 *
 * @param targetPercent ± percent of the mean, positive.
 * @source Propagation after JCGM 100:2008, 5.1; decision rule after JCGM 106:2012, 8.3
 */
export function evennessVerdicts(spokes: readonly Deviating[], targetPercent: number): readonly EvennessVerdict[] {
  const count = spokes.length;
  const mean = spokes.reduce((sum, spoke) => sum + spoke.value, 0) / count;
  const variances = spokes.reduce((sum, spoke) => sum + spoke.uOwn ** 2, 0);
  return spokes.map(({ value, uOwn }) => {
    const deviationPercent = (100 * (value - mean)) / mean;
    const variance = (1 - 1 / count) ** 2 * uOwn ** 2 + (variances - uOwn ** 2) / count ** 2;
    const expandedPercent = (100 * COVERAGE * Math.sqrt(variance)) / mean;
    return { word: wordOf(deviationPercent, expandedPercent, targetPercent), deviationPercent, expandedPercent };
  });
}

function wordOf(deviation: number, expanded: number, target: number): EvennessWord {
  if (deviation - expanded > target) return 'tight';
  if (deviation + expanded < -target) return 'slack';
  if (deviation > target) return 'probablyTight';
  if (deviation < -target) return 'probablySlack';
  return Math.abs(deviation) + expanded <= target ? 'even' : 'cannotBeCleared';
}
