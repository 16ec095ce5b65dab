import { median, scaledMad } from './median.ts';

/** @source Iglewicz & Hoaglin, How to Detect and Handle Outliers (1993): |modified z| > 3.5 */
const CUTOFF = 3.5;
/** Fewer spokes than this have no typical scatter. */
const FEWEST = 5;

export interface Outlier {
  /** Index into the values. */
  readonly index: number;
  /** Distance from the median in robust standard deviations, signed. */
  readonly modifiedZ: number;
}

/**
 * Values that stand out of their side.
 *
 * Distance from the median over the median absolute deviation, both hardly moved by the outliers themselves. On a side evener than the
 * readings are sure, their own typical uncertainty takes the place of the scatter, so that nobody chases noise.
 *
 * @param uOwn Standard uncertainty of each value's own part, the values' unit; 0 where it is not known.
 * @source Iglewicz & Hoaglin (1993); Hampel, JASA 69 (1974) 383
 */
export function findOutliers(values: readonly number[], uOwn: readonly number[]): readonly Outlier[] {
  if (values.length < FEWEST) return [];
  const centre = median(values);
  const scale = Math.max(scaledMad(values), median(uOwn));
  if (scale === 0) return [];
  return values.flatMap((value, index) => {
    const modifiedZ = (value - centre) / scale;
    return Math.abs(modifiedZ) > CUTOFF ? [{ index, modifiedZ }] : [];
  });
}
