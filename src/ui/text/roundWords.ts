/** Of a round, how many spokes are settled and which. */
interface Settled {
  /** Numbers of the settled spokes. */
  readonly settled: readonly number[];
  readonly spokeCount: number;
}

/** A few are named; more are counted. */
const NAMED = 3;

/** What an ended round has heard: a spoke counts once it is settled. */
export function endWords({ settled, spokeCount }: Settled): string {
  const known = new Set(settled);
  const missing = Array.from({ length: spokeCount }, (_, i) => i + 1).filter((spoke) => !known.has(spoke));
  if (missing.length === 0) return 'All heard';
  if (missing.length <= NAMED) return `All heard but ${missing.join(', ')}`;
  return `Ended: ${heardOf({ settled, spokeCount })} heard`;
}

/** How far a round is. */
export const heardOf = ({ settled, spokeCount }: Settled): string => `${settled.length} of ${spokeCount}`;
