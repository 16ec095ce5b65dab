import { measureSpoke } from '../src/physics/measureSpoke.ts';
import { measureWheel } from '../src/physics/measureWheel.ts';
import type { Member } from '../src/physics/member.ts';
import { modes } from '../src/physics/modes.ts';
import { prepareMember } from '../src/physics/prepareMember.ts';
import type { SpokeTones } from '../src/physics/spokeTones.ts';
import { hertz, metres, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../src/units.ts';
import { rich, spokesOf } from './memberScenes.ts';
import { round } from './memberTrial.ts';
import { drawRichWheel } from './richTrial.ts';

/** One unit of the reference loop: a million fused multiply-adds in plain numbers, ms. */
const referenceLoop = (): number => {
  const start = performance.now();
  let x = 0.5;
  for (let i = 0; i < 1_000_000; i++) x = x * 0.999999 + 1e-7;
  if (x > 2) console.log(x);
  return performance.now() - start;
};
const best = (times: number, work: () => void): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
};
/** What the member costs, in milliseconds and in reference loops of the same run. */
export const speed = (): string[][] => {
  let reference = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 15; i++) reference = Math.min(reference, referenceLoop());
  const member: Member = {
    sections: [0.002, 0.0018, 0.0018, 0.002, 0.0023].map((d, i) =>
      round([0.02, 0.06, 0.17, 0.03, 0.012][i] ?? 0.02, d, 193e9, 7900),
    ),
    crossingFromHub: metres(0.072),
  };
  const k = newtonMetresPerRadian(20);
  const ends = { hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } };
  const support = { kind: 'support', stiffness: newtonsPerMetre(3e6) } as const;
  let tension = 300;
  const modesMs = best(20, () => {
    for (let i = 0; i < 100; i++) {
      tension += 0.1;
      modes(member, newtons(tension), ends, 'inPlane', support, 6);
    }
  });
  const described = {
    member,
    uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
  };
  const prepareMs = best(5, () => {
    prepareMember(described);
  });
  const { crossingFromHub: _, ...uncrossed } = member;
  const radialMs = best(5, () => {
    prepareMember({ ...described, member: uncrossed });
  });
  const scenes = [true, false].map((crossed) => {
    const wheel = drawRichWheel(7, ['plain2.0'], crossed);
    const spokes = spokesOf(wheel, { name: '', kinds: [], crossed, pluck: rich(1) });
    const single = best(6, () => {
      for (const spoke of spokes) measureSpoke(spoke);
    });
    // 36 spokes: the wheel's own and the first ones once more.
    const many = Array.from({ length: 36 }, (_, i) => ({ ...(spokes[i % spokes.length] as SpokeTones), id: i }));
    const joint = best(4, () => {
      measureWheel(asNew(many));
    });
    let hertzMore = 0;
    const settled = best(4, () => {
      hertzMore += 1e-6;
      measureWheel([...many.slice(1), tuned(many[0] as SpokeTones, hertzMore)]);
    });
    return { single: single / spokes.length, joint, settled };
  });
  const row = (name: string, ms: number, target: string): string[] => [
    name,
    ms.toFixed(2),
    (ms / reference).toFixed(2),
    target,
  ];
  return [
    row('reference loop, 1e6 multiply-adds', reference, '–'),
    row('one mode, 5 sections and a crossing', modesMs / 600, '≤ 0.05 ms (20,000/s)'),
    row('prepare a crossed member', prepareMs, '≤ 500 ms'),
    row('prepare an uncrossed member', radialMs, '≤ 500 ms'),
    row('one inversion with its search, crossed', scenes[0]?.single ?? Number.NaN, '≤ 10 ms'),
    row('one inversion with its search, uncrossed', scenes[1]?.single ?? Number.NaN, '≤ 10 ms'),
    row('36 spokes jointly, all numbered anew, crossed', scenes[0]?.joint ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, all numbered anew, uncrossed', scenes[1]?.joint ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, one newly settled, crossed', scenes[0]?.settled ?? Number.NaN, '≤ 200 ms'),
    row('36 spokes jointly, one newly settled, uncrossed', scenes[1]?.settled ?? Number.NaN, '≤ 200 ms'),
  ];
};

/** The same spokes of members never seen before, so that nothing is remembered of them. */
const asNew = (spokes: readonly SpokeTones[]): SpokeTones[] => {
  const copies = new Map(spokes.map(({ prepared }) => [prepared, { ...prepared }]));
  return spokes.map((spoke) => ({ ...spoke, prepared: copies.get(spoke.prepared) ?? spoke.prepared }));
};
/** The same spoke heard once more: its first tone a little higher. */
const tuned = (spoke: SpokeTones, byHz: number): SpokeTones => ({
  ...spoke,
  plucks: spoke.plucks.map((pluck) => ({
    ...pluck,
    tones: pluck.tones.map((tone, i) => (i === 0 ? { ...tone, frequencyHz: hertz(tone.frequencyHz + byHz) } : tone)),
  })),
});
