import { describe, expect, it } from 'vitest';
import { Chain } from '../../src/physics/chain.ts';
import { chainOf } from '../../src/physics/chainOf.ts';
import { findModes } from '../../src/physics/findModes.ts';
import { rimGiveAt } from '../../src/physics/lineAt.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { beamModes } from '../signals/finiteElements.ts';
import { A, B, described, ends } from './members.ts';

const STIFFNESS = 2e6;
const beamOf = (member: typeof A, tensionN: number, hub: number, rim: number, massKg = 1e-9) => ({
  pieces: member.sections.map((s) => ({ lengthM: s.length, massKgPerM: s.massPerLength, bending: s.bendingInPlane })),
  tensionN,
  hubSpring: hub,
  rimSpring: rim,
  rim: { stiffnessNPerM: STIFFNESS, massKg },
});

describe('a rim that yields where the nipple sits', () => {
  it('lowers the tones as an independent finite-element model says', () => {
    // Own finite elements of test/signals (Przemieniecki 1968, cubic elements), which share no code with the dynamic stiffness.
    const meshError = 2e-4;
    for (const member of [A, B])
      for (const rim of [3, 40]) {
        const chain = new Chain(chainOf(member, ends(15, rim), 'inPlane'));
        chain.rimGive = 1 / STIFFNESS;
        const exact = findModes(chain, 800, 4, 500);
        const elements = beamModes(beamOf(member, 800, 15, rim), 4, 0.002);
        elements.modes.forEach(({ frequencyHz }, m) => {
          expect(Math.abs((exact[m] as number) / (2 * Math.PI * frequencyHz) - 1)).toBeLessThan(meshError);
        });
      }
  });
  it('is in the tables as the slope at an unyielding rim', () => {
    const table = prepareMember(described(A)).inPlane;
    const h = Math.floor(table.hub.lnK.length / 2);
    const r = Math.floor(table.rim.lnK.length / 2);
    const e = ends(Math.exp(table.hub.lnK[h] as number), Math.exp(table.rim.lnK[r] as number));
    const give = 1e-9;
    for (const tension of [200, 900]) {
      const chain = new Chain(chainOf(A, e, 'inPlane'));
      const rigid = findModes(chain, tension, 3, 300);
      chain.rimGive = give;
      const yielding = findModes(chain, tension, 3, 300);
      for (let m = 0; m < 3; m++) {
        const slope = Math.log((yielding[m] as number) / (rigid[m] as number)) / give;
        // Tables keep sensitivities at a ladder of tensions, straight between.
        const ladder = 0.02;
        expect(Math.abs(rimGiveAt(table, m, Math.log(tension)) / slope - 1)).toBeLessThan(ladder);
      }
    }
  });
});
