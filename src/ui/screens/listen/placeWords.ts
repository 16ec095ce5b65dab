const ordinal = (n: number): string => {
  const tens = n % 100;
  if (tens >= 11 && tens <= 13) return `${n}th`;
  return `${n}${['th', 'st', 'nd', 'rd'][n % 10] ?? 'th'}`;
};

/** Where a spoke is, counted from the valve hole the shorter way round. */
export function placeWords(spoke: number, count: number): string {
  const back = count - spoke + 1;
  return spoke <= back ? `${ordinal(spoke)} after the valve hole` : `${ordinal(back)} before the valve hole`;
}
