const kept = new Map<string, Float64Array>();

/** An array of that name and length, as its last user left it, so that a pluck allocates nothing large. Overwritten by the next user. */
export function scratch(name: string, length: number): Float64Array {
  const known = kept.get(name);
  if (known?.length === length) return known;
  const made = new Float64Array(length);
  kept.set(name, made);
  return made;
}

/** The same, filled with zeros. */
export const zeros = (name: string, length: number): Float64Array => scratch(name, length).fill(0);
