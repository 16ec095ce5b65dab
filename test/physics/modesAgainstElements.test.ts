import { describe, expect, it } from 'vitest';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { newtons, newtonsPerMetre } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { hermiteModes } from './hermiteElements.ts';
import { crossed, ends, flat, round } from './members.ts';

const percent = (value: number): number => value / 100;
/** The elements' own error at 5 mm, mode 4, is below a tenth of this (Przemieniecki: (βl)⁴/720). */
const TOLERANCE = percent(0.05);
const MEMBERS = 200;

const drawMember = (
  seed: number,
): { member: Member; tension: number; hubEnd: number; rimEnd: number; support: number } => {
  const random = seededRandom(`elements|${seed}`);
  const pieces = random.integer(1, 4);
  const total = random.uniform(0.14, 0.3);
  const sections = Array.from({ length: pieces }, () =>
    random.chance(0.3)
      ? flat((total / pieces) * random.uniform(0.8, 1.2), random.uniform(0.0018, 0.0045), random.uniform(0.0009, 0.002))
      : round(
          (total / pieces) * random.uniform(0.8, 1.2),
          random.uniform(0.0014, 0.0045),
          random.uniform(70e9, 200e9),
          random.uniform(1500, 8000),
        ),
  );
  const length = sections.reduce((sum, s) => sum + s.length, 0);
  return {
    member: crossed({ sections }, length * random.uniform(0.15, 0.45)),
    tension: random.logUniform(20, 3000),
    hubEnd: random.logUniform(0.1, 500),
    rimEnd: random.logUniform(0.1, 500),
    support: random.logUniform(1e5, 1e8),
  };
};

describe('modes against finite elements', () => {
  it(`agrees within 0.05 % on ${MEMBERS} stepped members with held crossings, modes 1 to 4`, {
    timeout: 120_000,
  }, () => {
    let worst = 0;
    for (let seed = 0; seed < MEMBERS; seed++) {
      const { member, tension, hubEnd, rimEnd, support } = drawMember(seed);
      const crossing = { kind: 'support', stiffness: newtonsPerMetre(support) } as const;
      const exact = modes(member, newtons(tension), ends(hubEnd, rimEnd), 'inPlane', crossing, 4);
      const judged = hermiteModes(member, tension, { hubEnd, rimEnd, support }, 4, 0.005);
      exact.forEach((f, i) => {
        worst = Math.max(worst, Math.abs(f / (judged[i] as number) - 1));
      });
    }
    expect(worst).toBeLessThan(TOLERANCE);
    expect(worst).toBeGreaterThan(0);
  });
});
