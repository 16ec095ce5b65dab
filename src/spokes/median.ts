/** The middle value; of an even number of values the mean of the two middle ones. @throws RangeError for no values */
export function median(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('median of no values: expected one or more');
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  const upper = sorted[Math.floor(middle)] ?? 0;
  return Number.isInteger(middle) ? ((sorted[middle - 1] ?? 0) + upper) / 2 : upper;
}

/** Makes a median absolute deviation a standard deviation for normal data: 1/Φ⁻¹(3/4). @source Rousseeuw & Croux, JASA 88 (1993) 1273 */
const NORMAL_SCALE = 1.4826022185056018;

/** Median absolute deviation from the median, scaled to a standard deviation. @throws RangeError for no values */
export function scaledMad(values: readonly number[]): number {
  const centre = median(values);
  return NORMAL_SCALE * median(values.map((value) => Math.abs(value - centre)));
}
