import { measureSpoke } from '../src/physics/measureSpoke.ts';
import type { Member } from '../src/physics/member.ts';
import { modes } from '../src/physics/modes.ts';
import { prepareMember } from '../src/physics/prepareMember.ts';
import type { SpokeTones } from '../src/physics/spokeTones.ts';
import { weighNumberings } from '../src/physics/weighNumberings.ts';
import { metres, newtonMetresPerRadian, newtons } from '../src/units.ts';
import { seededRandom } from '../test/signals/random.ts';
import { pluckOf, round, toneOf } from './memberTrial.ts';
import { pc } from './tables.ts';

/** Three of the lowest five partials and two strangers: right, refused or wrong. */
export const missingPartials = (runs: number): string[][] => {
  const random = seededRandom('bench missing');
  const member: Member = {
    sections: [round(0.02, 0.002, 193e9, 7900), round(0.23, 0.0018, 193e9, 7900), round(0.03, 0.002, 193e9, 7900)],
  };
  const prepared = prepareMember({
    member,
    uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
  });
  let refused = 0;
  let wrong = 0;
  let notBest = 0;
  for (let i = 0; i < runs; i++) {
    const tension = random.uniform(200, 1400);
    const end = () => {
      const k = newtonMetresPerRadian(random.logUniform(1, 300));
      return { inPlane: k, across: k };
    };
    const f = modes(member, newtons(tension), { hub: end(), rim: end() }, 'inPlane', { kind: 'none' }, 5);
    const kept = f.map((v, n) => ({ v: v as number, n }));
    kept.splice(random.integer(0, 4), 1);
    kept.splice(random.integer(0, 3), 1);
    const tones = kept.map(({ v }) =>
      toneOf(v * (1 + random.normal(0, 0.0005)), v * 0.0005, -20 - random.uniform(0, 12)),
    );
    for (let s = 0; s < 2; s++) {
      const v = random.uniform(150, 2600);
      tones.push(toneOf(v, v * 0.0005, -20 - random.uniform(3, 15)));
    }
    const how = { crossing: 'none', direction: 'inPlane' } as const;
    const spoke: SpokeTones = { id: 0, prepared, plucks: [pluckOf(tones, how)], group: 'bench' };
    const result = measureSpoke(spoke);
    const { weighed } = weighNumberings(spoke);
    const best = weighed[0];
    if (best !== undefined && weighed.some((w) => w.lnEvidence > best.lnEvidence)) notBest++;
    if (!result.ok) {
      refused++;
      continue;
    }
    const right = kept.every(({ v, n }) =>
      result.assignment.some((a) => Math.abs(a.frequencyHz / v - 1) < 0.003 && (a.mode === n + 1 || a.mode === 0)),
    );
    if (!right) wrong++;
  }
  return [
    [
      'three of five partials, two strangers',
      String(runs),
      pc(1 - refused / runs, 1),
      pc(1 - wrong / Math.max(runs - refused, 1), 2),
      String(notBest),
    ],
  ];
};
