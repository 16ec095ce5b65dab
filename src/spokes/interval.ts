/** An estimate with its interval. */
export interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** value ± factor · standard error. */
export const intervalAround = (value: number, halfWidth: number): Interval => ({
  value,
  low: value - halfWidth,
  high: value + halfWidth,
});
