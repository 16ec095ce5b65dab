import type { Contribution, UncertainInput } from '../contract.ts';
import { lnStiffnessOf } from '../physics/clampedness.ts';
import type { Learned } from '../physics/spokeTones.ts';
import type { DescribedSpoke } from './describeMember.ts';
import type { RoundReadings } from './readRound.ts';
import type { Side, SpokeKind, Wheel } from './wheel.ts';

/** The member of one side and kind, for the member table. */
export interface ReportMember {
  readonly side: Side;
  readonly kind: SpokeKind;
  /** The first spoke of the group. */
  readonly described: DescribedSpoke;
  readonly learned?: Learned;
  /** The ends' rotational stiffness that the learned clampedness means at the group's mean tension. */
  readonly ends?: { readonly hubNmPerRad: number; readonly rimNmPerRad: number };
  /** Mean contributions over the group, percent of tension, largest first. */
  readonly budget: readonly {
    readonly input: UncertainInput;
    readonly scope: Contribution['scope'];
    readonly percent: number;
  }[];
  readonly uOwnPercent: number;
  readonly uCommonPercent: number;
}

/** The members of a round, one for each side and kind, with what was learned of them. */
export function reportMembers(wheel: Wheel, { described, readings, learned }: RoundReadings): readonly ReportMember[] {
  const groups = new Map<string, number[]>();
  for (const [spoke, one] of described) groups.set(one.group, [...(groups.get(one.group) ?? []), spoke]);
  return [...groups].flatMap(([group, spokes]): ReportMember[] => {
    const [first] = spokes;
    const example = first === undefined ? undefined : described.get(first);
    const kind = example && wheel.kinds[example.kindId];
    if (!example || !kind) return [];
    const taken = spokes.flatMap((spoke) => {
      const reading = readings.get(spoke);
      return reading?.ok ? [reading] : [];
    });
    const parts = new Map<string, { input: UncertainInput; scope: Contribution['scope']; squares: number }>();
    for (const { contributions, tensionN } of taken) {
      for (const { input, scope, uN } of contributions) {
        const key = `${input} ${scope}`;
        const part = parts.get(key) ?? { input, scope, squares: 0 };
        part.squares += (uN / tensionN) ** 2 / taken.length;
        parts.set(key, part);
      }
    }
    const rootMeanSquare = (of: (reading: (typeof taken)[number]) => number) =>
      taken.length === 0
        ? 0
        : 100 * Math.sqrt(taken.reduce((sum, one) => sum + (of(one) / one.tensionN) ** 2, 0) / taken.length);
    const taught = learned.get(group);
    return [
      {
        side: example.spoke.side,
        kind,
        described: example,
        ...(taught ? { learned: taught } : {}),
        ...(taught && taken.length > 0 ? { ends: endStiffness(example, taught, taken) } : {}),
        budget: [...parts.values()]
          .map(({ input, scope, squares }) => ({ input, scope, percent: 100 * Math.sqrt(squares) }))
          .toSorted((a, b) => b.percent - a.percent),
        uOwnPercent: rootMeanSquare((one) => one.uOwnN),
        uCommonPercent: rootMeanSquare((one) => one.uCommonN),
      },
    ];
  });
}

/** At the geometric mean of the tensions, where the clampedness was taken. @source MODEL.md: c = k/(k + √(T·EI)) */
function endStiffness(
  { described: { member } }: DescribedSpoke,
  { hubEnd, rimEnd }: Learned,
  taken: readonly { readonly tensionN: number }[],
): NonNullable<ReportMember['ends']> {
  const tension = Math.exp(taken.reduce((sum, one) => sum + Math.log(one.tensionN), 0) / taken.length);
  const stiffness = (value: number) => Math.exp(lnStiffnessOf(member, value, tension));
  return { hubNmPerRad: stiffness(hubEnd.value), rimNmPerRad: stiffness(rimEnd.value) };
}
