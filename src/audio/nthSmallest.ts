/**
 * The value that would stand at index `n` if the first `count` were sorted; the values change places.
 * @source Hoare 1961, Commun. ACM 4:321 (FIND)
 */
export function nthSmallest(values: Float64Array, count: number, n: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const pivot = values[n] as number;
    let i = low;
    let j = high;
    while (i <= j) {
      while ((values[i] as number) < pivot) i++;
      while ((values[j] as number) > pivot) j--;
      if (i > j) break;
      const v = values[i] as number;
      values[i++] = values[j] as number;
      values[j--] = v;
    }
    if (n <= j) high = j;
    else if (n >= i) low = i;
    else break;
  }
  return values[n] as number;
}
