import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MeasureRefusal, Reading } from '../../src/contract.ts';
import { crossingSupport } from '../../src/physics/crossingSupport.ts';
import { measureSpoke } from '../../src/physics/measureSpoke.ts';
import { measureTones } from '../../src/physics/measureTones.ts';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { type PreparedMember, prepareMember } from '../../src/physics/prepareMember.ts';
import { weighNumberings } from '../../src/physics/weighNumberings.ts';
import { decibels, hertz, newtons, newtonsPerMetre, seconds } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { crossed, described, ends, round } from './members.ts';
import { ALONG, pluckOf, spokeOf, tonesOf, UNCROSSED } from './plucks.ts';

const BUTTED: Member = {
  sections: [round(0.02, 0.002), round(0.23, 0.0018), round(0.03, 0.002), round(0.012, 0.004, 97e9, 8500)],
};
const RADIAL = prepareMember(described(BUTTED));
const CROSSED_MEMBER = crossed(BUTTED, 0.072);
const CROSSED = prepareMember(described(CROSSED_MEMBER));
const SUPPORT = { kind: 'support', stiffness: newtonsPerMetre(crossingSupport(CROSSED_MEMBER)) } as const;

const radialTones = (tension: number, hub: number, rim: number, count = 4): number[] =>
  modes(BUTTED, newtons(tension), ends(hub, rim), 'inPlane', { kind: 'none' }, count);
/** The lowest three of a crossed spoke with a hub span of a quarter are all of the long part. */
const crossedTones = (tension: number, rim: number): number[] =>
  modes(CROSSED_MEMBER, newtons(tension), ends(15, rim), 'inPlane', SUPPORT, 3);
const loud = (frequencies: readonly number[]): [number, number][] => frequencies.map((f, i) => [f, 3 * i]);

const read = (result: Reading | MeasureRefusal): Reading => {
  if (!result.ok) throw new RangeError(`refused: ${result.reason} ${result.detail ?? ''}`);
  return result;
};
const total = (reading: Reading): number => Math.hypot(reading.uOwnN, reading.uCommonN);
const measured = (prepared: PreparedMember, list: readonly (readonly [number, number])[], how = ALONG) =>
  measureSpoke(spokeOf(prepared, [pluckOf(tonesOf(list), how)]));

describe('one spoke', () => {
  it('is right within its own stated interval for ends from nearly pinned to nearly clamped', () => {
    for (const tension of [250, 600, 1100])
      for (const k of [2, 8, 30, 100]) {
        const radial = read(measured(RADIAL, loud(radialTones(tension, k, k)), UNCROSSED));
        expect(Math.abs(radial.tensionN - tension)).toBeLessThan(2.5 * total(radial));
        const held = read(measured(CROSSED, loud(crossedTones(tension, k))));
        expect(Math.abs(held.tensionN - tension)).toBeLessThan(2.5 * total(held));
        expect(total(held) / held.tensionN).toBeLessThan(0.1);
      }
  });
  it('is right within 0.1 % when the ends and all inputs are known', () => {
    const sure = prepareMember({
      member: BUTTED,
      uncertainty: {
        massRelative: 1e-6,
        length: described(BUTTED).uncertainty.length,
        crossing: described(BUTTED).uncertainty.crossing,
        stiffnessRelative: 1e-6,
      },
      endPrior: {
        hub: { low: ends(12, 1).hub.inPlane, high: ends(12, 1).hub.inPlane },
        rim: { low: ends(1, 18).rim.inPlane, high: ends(1, 18).rim.inPlane },
      },
    });
    const reading = read(measured(sure, loud(radialTones(870, 12, 18)), UNCROSSED));
    const relative = 0.001;
    expect(Math.abs(reading.tensionN / 870 - 1)).toBeLessThan(relative);
  });
  it('is right within its own stated interval however firm the hold is', () => {
    // Grips of own finite-element pairs: 3e5 N/m slack … 6e6 N/m firm.
    for (const tension of [500, 1000])
      for (const stiffness of [3e5, 6e5, 1.2e6, 3e6, 6e6]) {
        const hold = { kind: 'support', stiffness: newtonsPerMetre(stiffness) } as const;
        const tones = modes(CROSSED_MEMBER, newtons(tension), ends(15, 15), 'inPlane', hold, 3);
        const reading = read(measured(CROSSED, loud(tones)));
        expect(Math.abs(reading.tensionN - tension)).toBeLessThan(2.5 * total(reading));
        expect(total(reading) / reading.tensionN).toBeLessThan(0.1);
      }
  });
  it('names the crossing, not the hub, as what is unsure of a held crossing', () => {
    const held = read(measured(CROSSED, loud(crossedTones(900, 20))));
    const share = (reading: Reading, input: string): number =>
      reading.contributions.filter((c) => c.input === input).reduce((sum, c) => sum + c.uN ** 2, 0);
    expect(share(held, 'crossing')).toBeGreaterThan(20 * share(held, 'hubEnd'));
    const radial = read(measured(RADIAL, loud(radialTones(900, 20, 20)), UNCROSSED));
    expect(share(radial, 'hubEnd')).toBeGreaterThan(0);
    expect(share(radial, 'crossing')).toBe(0);
  });
  it('takes the tone that rings on for the spoke, and the one that dies for the fingers', () => {
    const [first = 0, second = 0, third = 0] = crossedTones(800, 20);
    const lasting = tonesOf(loud([first, second, third])).map((tone) => ({ ...tone, decayS: seconds(0.35) }));
    const dying = tonesOf([[first * 1.012, 0]]).map((tone) => ({ ...tone, decayS: seconds(0.03) }));
    const pluck = pluckOf(
      [...lasting.slice(1), ...dying, { ...(lasting[0] as (typeof lasting)[number]), levelDb: decibels(-28) }],
      ALONG,
    );
    const reading = read(measureSpoke(spokeOf(CROSSED, [pluck])));
    const used = reading.assignment.filter((a) => a.mode === 1).map((a) => a.frequencyHz);
    expect(used).toEqual([first]);
  });
  it('answers when a second pluck brings out the other tone of every doublet, and is less sure', () => {
    const tones = radialTones(800, 20, 20);
    const twice = (split: number) =>
      read(
        measureSpoke(
          spokeOf(RADIAL, [
            pluckOf(tonesOf(loud(tones), 1e-4), UNCROSSED),
            pluckOf(tonesOf(loud(tones.map((f) => f * (1 + split))), 1e-4), UNCROSSED),
          ]),
        ),
      );
    const alike = twice(0);
    const split = twice(0.003);
    expect(Math.abs(split.tensionN - 800)).toBeLessThan(2 * total(split));
    expect(split.uOwnN).toBeGreaterThan(alike.uOwnN);
  });
  it('states contributions that add up to its uncertainty, largest first', () => {
    const reading = read(measured(CROSSED, loud(crossedTones(900, 20))));
    const sum = (scope: 'own' | 'common'): number =>
      Math.sqrt(reading.contributions.filter((c) => c.scope === scope).reduce((s, c) => s + c.uN ** 2, 0));
    expect(sum('own') / reading.uOwnN).toBeCloseTo(1, 2);
    expect(sum('common') / reading.uCommonN).toBeCloseTo(1, 2);
    reading.contributions.forEach((c, i) => {
      if (i > 0) expect(c.uN).toBeLessThanOrEqual((reading.contributions[i - 1]?.uN ?? 0) + 1e-9);
    });
  });
  it('is not refused for the loud tones of the open pair across the wheel, which its own tension accounts for', () => {
    const tension = newtons(1000);
    const own = crossedTones(tension, 30);
    const pair = modes(BUTTED, tension, ends(15, 30), 'across', { kind: 'none' }, 4).map((f) => f * 0.985);
    const list: [number, number][] = [
      [own[0] as number, 7],
      [own[1] as number, 9],
      ...pair.map((f, n): [number, number] => [f, n]),
    ];
    const reading = read(measured(CROSSED, list));
    expect(Math.abs(reading.tensionN - tension)).toBeLessThan(2.5 * total(reading));
  });
  it('says what each tone was taken for', () => {
    const [f1 = 0, f2 = 0, f3 = 0] = crossedTones(900, 20);
    const reading = read(
      measured(CROSSED, [
        [f1, 0],
        [f2, 4],
        [f3, 8],
        [1311, 12],
      ]),
    );
    const byTone = reading.assignment.map((a) => [Math.round(a.frequencyHz), a.mode, a.family]);
    expect(byTone).toContainEqual([Math.round(f1), 1, 'segment']);
    expect(byTone).toContainEqual([Math.round(f2), 2, 'segment']);
    expect(byTone).toContainEqual([Math.round(f3), 3, 'segment']);
    expect(reading.assignment.find((a) => Math.round(a.frequencyHz) === 1311)?.mode).toBe(0);
    expect(reading.assignment.reduce((s, a) => s + a.weight, 0)).toBeCloseTo(1, 6);
  });
  it('finds the fundamental missing', () => {
    const reading = read(measured(RADIAL, loud(radialTones(800, 15, 15)).slice(1), UNCROSSED));
    expect(reading.assignment.map((a) => a.mode)).toEqual([2, 3, 4]);
  });
  it('goes by loudness: the complete comb of a neighbour 25 dB below does not win over two tones of the spoke', () => {
    const own = radialTones(800, 15, 15);
    const neighbour = radialTones(640, 15, 15, 5);
    const reading = read(
      measured(
        RADIAL,
        [[own[0] as number, 0], [own[1] as number, 5], ...neighbour.map((f, i): [number, number] => [f, 25 + 2 * i])],
        UNCROSSED,
      ),
    );
    expect(Math.abs(reading.tensionN - 800)).toBeLessThan(2.5 * total(reading));
  });
  it('combines plucks: two that lack different tones say more than either', () => {
    const [f1 = 0, f2 = 0, f3 = 0, f4 = 0] = radialTones(700, 10, 25);
    const one = pluckOf(
      tonesOf([
        [f1, 0],
        [f2, 3],
      ]),
      UNCROSSED,
    );
    const other = pluckOf(
      tonesOf([
        [f1, 6],
        [f3, 0],
        [f4, 2],
      ]),
      UNCROSSED,
    );
    const both = read(measureSpoke(spokeOf(RADIAL, [one, other])));
    const first = read(measureSpoke(spokeOf(RADIAL, [one])));
    expect(total(both)).toBeLessThan(total(first));
    expect(both.assignment.map((a) => a.mode)).toEqual([1, 2, 1, 3, 4]);
  });
  it('reads typed tones like heard ones', () => {
    const typed = radialTones(800, 15, 15).map((f) => ({ frequencyHz: hertz(f), uHz: hertz(0.5) }));
    const reading = read(measureTones(RADIAL, typed, UNCROSSED));
    expect(Math.abs(reading.tensionN - 800)).toBeLessThan(2.5 * total(reading));
  });
  it('reads a higher tension from higher tones', () =>
    fc.assert(
      fc.property(fc.double({ min: 200, max: 1400, noNaN: true }), (tension) => {
        const low = read(measured(RADIAL, loud(radialTones(tension, 15, 15)), UNCROSSED));
        const high = read(measured(RADIAL, loud(radialTones(tension * 1.05, 15, 15)), UNCROSSED));
        expect(high.tensionN).toBeGreaterThan(low.tensionN);
      }),
      { numRuns: 15, seed: 5 },
    ));
});

describe('the search', () => {
  it('reaches the evidence of the true numbering from anywhere, and staying at the truth gains nothing', () => {
    const random = seededRandom('search');
    let reached = 0;
    const runs = 60;
    for (let i = 0; i < runs; i++) {
      const tension = random.logUniform(100, 1500);
      const f = radialTones(tension, random.logUniform(1, 150), random.logUniform(1, 150));
      const tones = tonesOf(f.map((v, n): [number, number] => [v * (1 + random.normal(0, 0.0005)), 3 * n]));
      const { weighed } = weighNumberings(spokeOf(RADIAL, [pluckOf(tones, UNCROSSED)]));
      const truth = weighed.find(
        (w) => w.numbering.comb.plane === 'inPlane' && [...w.numbering.modes].sort().join('') === '1234',
      );
      if (truth !== undefined && (weighed[0]?.lnEvidence ?? 0) >= truth.lnEvidence - 1e-9) reached++;
    }
    expect(reached).toBe(runs);
  });
  it('numbers three of the lowest five partials with two strangers among them, or refuses', () => {
    const random = seededRandom('missing');
    const runs = 100;
    let wrong = 0;
    let answered = 0;
    for (let i = 0; i < runs; i++) {
      const tension = random.uniform(300, 1300);
      const f = radialTones(tension, random.logUniform(2, 100), random.logUniform(2, 100), 5);
      const kept = f.map((v, n) => [v, n] as const);
      kept.splice(random.integer(0, 4), 1);
      kept.splice(random.integer(0, 3), 1);
      const list: [number, number][] = kept.map(([v]) => [v * (1 + random.normal(0, 0.0005)), random.uniform(0, 12)]);
      for (let s = 0; s < 2; s++) list.push([random.uniform(150, 2600), random.uniform(3, 15)]);
      const result = measured(RADIAL, list, UNCROSSED);
      if (!result.ok) continue;
      answered++;
      const right = kept.every(([v, n]) =>
        result.assignment.some((a) => Math.abs(a.frequencyHz / v - 1) < 0.003 && (a.mode === n + 1 || a.mode === 0)),
      );
      if (!right || Math.abs(result.tensionN / tension - 1) > 0.15) wrong++;
    }
    expect(answered).toBeGreaterThan(0.8 * runs);
    expect(wrong).toBeLessThanOrEqual(1);
  });
});

describe('what cannot be measured is refused with its reason', () => {
  const reason = (result: Reading | MeasureRefusal): string => (result.ok ? `${result.tensionN} N` : result.reason);
  it('no tones', () => expect(reason(measured(CROSSED, []))).toBe('noTones'));
  it('a tone below the slack member', () =>
    expect(reason(measured(RADIAL, [[42, 0]], UNCROSSED))).toBe('belowBendingTone'));
  it('a tone above any spoke', () => expect(reason(measured(CROSSED, [[5600, 0]]))).toBe('outOfRange'));
  it('tones of another member', () => {
    const result = measured(
      RADIAL,
      [
        [401, 0],
        [577, 1],
        [733, 0],
        [1003, 2],
        [1171, 1],
        [1409, 2],
      ],
      UNCROSSED,
    );
    expect(['tonesContradictMember', 'numberingAmbiguous']).toContain(reason(result));
  });
  it('the common tone of an open pair', () => {
    const pair = modes(BUTTED, newtons(800), ends(15, 15), 'across', { kind: 'none' }, 2);
    const result = measured(CROSSED, loud(pair), { crossing: 'free', direction: 'across' } as typeof ALONG);
    expect(reason(result)).toBe('pairOnly');
  });
  it('never answers NaN, whatever it is given', () =>
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -10, max: 2e4 }), fc.double({ min: -80, max: 80 })), { maxLength: 8 }),
        (list) => {
          const result = measured(CROSSED, list);
          if (!result.ok) return;
          for (const value of [result.tensionN, result.uOwnN, result.uCommonN, result.agreement])
            expect(Number.isFinite(value)).toBe(true);
        },
      ),
      { numRuns: 100, seed: 6 },
    ));
});
