import type { DescribedMember } from '../physics/member.ts';
import type { PreparedMember } from '../physics/prepareMember.ts';

/** Makes a member ready, once for each different one: `prepareMember` behind a memory. */
export type Prepare = (described: DescribedMember) => PreparedMember;

/** A memory for prepared members: the same description is tabulated once. */
export function rememberPrepared(prepare: Prepare): Prepare {
  const known = new Map<string, PreparedMember>();
  return (described) => {
    // Spokes of one side differ in the last digits of their computed lengths; to nine digits they are one member.
    const key = JSON.stringify(described, (_, value: unknown) =>
      typeof value === 'number' ? value.toPrecision(9) : value,
    );
    const prepared = known.get(key) ?? prepare(described);
    known.set(key, prepared);
    return prepared;
  };
}
