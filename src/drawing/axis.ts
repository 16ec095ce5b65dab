/**
 * Round values that divide a range: steps of 1, 2 or 5 times a power of ten.
 * @param low @param high ends of the range, high > low
 * @param about how many steps are wished for, at least 1
 * @returns ascending values inside the range
 * @throws RangeError if the range is empty or not finite
 */
export function roundSteps(low: number, high: number, about: number): readonly number[] {
  if (!(high > low) || !Number.isFinite(low) || !Number.isFinite(high))
    throw new RangeError(`range is ${low} to ${high}; expected a finite range that is not empty`);
  const rough = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((m) => m * power).find((candidate) => candidate >= rough * 0.999) ?? 10 * power;
  const steps: number[] = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++) steps.push(i * step + 0);
  return steps;
}

/** A straight scale from values to drawing units. */
export const scale =
  (fromLow: number, fromHigh: number, toLow: number, toHigh: number) =>
  (value: number): number =>
    toLow + ((value - fromLow) / (fromHigh - fromLow)) * (toHigh - toLow);
