/**
 * Exact modes against closed forms, textbook roots and frozen values. Frozen values were computed once with 40-digit arithmetic from the
 * transfer matrix of the same equation, and cross-checked by a 200-element Hermite model (agreement 2e-8).
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plane } from '../../src/contract.ts';
import type { Ends, Member } from '../../src/physics/member.ts';
import { type CrossingState, modes } from '../../src/physics/modes.ts';
import { newtons, newtonsPerMetre } from '../../src/units.ts';
import { A, B, C, CLAMPED, crossed, ends, HALF, PINNED, round, SPRUNG, section } from './members.ts';

const NONE: CrossingState = { kind: 'none' };
const RIGID: CrossingState = { kind: 'support', stiffness: newtonsPerMetre(Number.POSITIVE_INFINITY) };
const run = (
  member: Member,
  tension: number,
  e: Ends,
  count: number,
  crossing: CrossingState = NONE,
  plane: Plane = 'inPlane',
) => modes(member, newtons(tension), e, plane, crossing, count) as number[];
const expectClose = (got: readonly number[], wanted: readonly number[], relative: number): void => {
  expect(got.length).toBeGreaterThanOrEqual(wanted.length);
  wanted.forEach((w, i) => {
    expect(Math.abs((got[i] as number) / w - 1), `mode ${i + 1}: ${got[i]} Hz for ${w} Hz`).toBeLessThan(relative);
  });
};
/** Of 13 printed digits. */
const FROZEN = 1e-9;
const ROUNDING = 1e-12;
/** Values printed to five digits. */
const HALF_A_DIGIT = 4e-5;

describe('modes: slack members are textbook beams', () => {
  // Thomson, Theory of Vibration with Applications, App. D (4.7300, 7.8532, 10.9956); further digits from the transcendental equations.
  const betaL = (member: Member, e: Ends, count: number): number[] => {
    const s = member.sections[0];
    if (s === undefined) throw new RangeError('no section');
    return run(member, 0, e, count).map(
      (f) => ((2 * Math.PI * f) ** 2 * (s.massPerLength / s.bendingInPlane)) ** 0.25 * s.length,
    );
  };
  it('has the clamped-clamped roots', () =>
    expectClose(
      betaL(A, CLAMPED, 4),
      [4.730040744862704, 7.853204624095838, 10.99560783800167, 14.13716549125746],
      1e-11,
    ));
  it('has the clamped-pinned roots', () =>
    expectClose(
      betaL(A, HALF, 4),
      [3.926602312047919, 7.068582745628732, 10.21017612281303, 13.35176877775409],
      1e-11,
    ));
  it('has the pinned roots', () => expectClose(betaL(A, PINNED, 3), [Math.PI, 2 * Math.PI, 3 * Math.PI], 1e-11));
  it('has the two-span roots of Blevins, Formulas for Natural Frequency and Mode Shape (1979)', () => {
    const two = crossed(A, 0.135);
    const perSpan = (f: number): number =>
      ((2 * Math.PI * f) ** 2 * ((two.sections[0]?.massPerLength ?? 0) / (two.sections[0]?.bendingInPlane ?? 1))) **
        0.25 *
      0.135;
    expectClose(run(two, 0, PINNED, 4, RIGID).map(perSpan), [Math.PI, 3.9266023, 2 * Math.PI, 7.0685827], 1e-7);
    expectClose(run(two, 0, CLAMPED, 4, RIGID).map(perSpan), [3.9266023, 4.7300407, 7.0685827, 7.8532046], 1e-7);
  });
});

describe('modes: stiff strings', () => {
  /** Dimensionless: T = 1 N·ξ², EI = 1, L = 1, µ = 1; f0 = ξ/2. */
  const ratio = (xi: number, e: Ends, n: number): number => {
    const unit: Member = { sections: [section(1, 1, 1, 1, 50)] };
    return (run(unit, xi * xi, e, n)[n - 1] as number) / ((n * xi) / 2);
  };
  it.each([
    [10, 1, 1.304852841189, 1.16445130835, 1.04818702721],
    [10, 2, 1.452516623955, 1.30755710649, 1.181009812001],
    [15, 1, 1.178507434528, 1.094859436233, 1.021697072742],
    [20, 1, 1.124780342932, 1.06565930973, 1.012261829273],
    [20, 2, 1.16445130835, 1.103626214577, 1.04818702721],
    [20, 3, 1.226750187128, 1.163653365888, 1.105470985157],
    [25, 1, 1.095580209519, 1.049932318714, 1.007864756325],
    [30, 1, 1.077348340911, 1.04018583045, 1.005468163152],
    [40, 1, 1.055907055161, 1.028820943747, 1.003079509685],
    [60, 1, 1.035911930661, 1.018349054915, 1.001369840158],
    [100, 1, 1.020914505999, 1.010600904217, 1.000493358519],
    [100, 5, 1.032985389002, 1.022521656871, 1.012261829273],
  ])('has the frozen ratios at ξ = %d, mode %d', (xi, n, clamped, half, pinned) => {
    const printed = 5e-12;
    expectClose([ratio(xi, CLAMPED, n), ratio(xi, HALF, n), ratio(xi, PINNED, n)], [clamped, half, pinned], printed);
  });
  it('agrees with the pinned closed form f = n f0 √(1 + n²π²/ξ²)', () => {
    for (const xi of [2, 7, 30, 90])
      for (const n of [1, 2, 5])
        expect(ratio(xi, PINNED, n)).toBeCloseTo(Math.sqrt(1 + (n * Math.PI) ** 2 / xi ** 2), 10);
  });
  it('has the frozen tones of spoke A', () => {
    expectClose(run(A, 1000, CLAMPED, 4), [413.2256276428, 850.9791210774, 1334.797992324, 1881.700753874], FROZEN);
    expectClose(run(A, 1000, HALF, 4), [393.49476202, 810.497655979, 1271.970278294, 1794.883836241], FROZEN);
    expectClose(run(A, 1000, PINNED, 4), [375.516427997, 773.3552423433, 1213.787942651, 1713.698049446], FROZEN);
    expectClose(run(A, 1000, SPRUNG, 4), [385.7396527763, 793.6748627107, 1243.865941808, 1752.933050677], FROZEN);
    expectClose(run(A, 300, SPRUNG, 4), [225.4169072121, 488.9125731977, 818.6671325482, 1231.769419978], FROZEN);
  });
  it.each([
    [200, 218.27986021, 191.43739492],
    [400, 281.50507371, 254.76555731],
    [600, 331.86612891, 304.8945963],
    [800, 374.95819421, 347.72161828],
    [1200, 447.99261796, 420.28092679],
    [1500, 495.27792958, 467.26980428],
  ])('has the frozen first tone of spoke A at %d N', (tension, clamped, sprung) => {
    const printed = 3e-11;
    expectClose(
      [...run(A, tension, CLAMPED, 1), ...run(A, tension, SPRUNG, 1)],
      [clamped, sprung],
      Math.max(printed, FROZEN),
    );
  });
  it('has the frozen tones of the butted spoke B and of both planes of the blade C', () => {
    expectClose(run(B, 1000, CLAMPED, 4), [545.3765109133, 1095.047495424, 1654.061712714, 2231.180523396], FROZEN);
    expectClose(run(B, 1000, PINNED, 4), [495.0412841318, 988.1394891651, 1485.874926616, 2007.693621807], FROZEN);
    expectClose(run(B, 1000, SPRUNG, 4), [508.7000026611, 1015.792335085, 1526.995779567, 2060.075660526], FROZEN);
    const across = run(C, 1000, CLAMPED, 4, NONE, 'across');
    expectClose(across, [513.3894110571, 1018.779020204, 1518.17041884, 2029.130866575], FROZEN);
    expectClose(run(C, 1000, CLAMPED, 4), [518.4107306716, 1054.782969951, 1625.259452045, 2252.463845721], FROZEN);
  });
  it('agrees with the closed form of rotational springs, βL = nπ + φ1 + φ2', () => {
    // tan φ = kβ/(kα + EI(α² + β²)); exact up to e^(−αL): from the boundary condition of a half-infinite member.
    const s = A.sections[0];
    if (s === undefined) throw new RangeError('no section');
    const { bendingInPlane: EI, massPerLength: mu, length: L } = s;
    for (const tension of [600, 1000, 2500])
      run(A, tension, SPRUNG, 3).forEach((f, i) => {
        const inertia = mu * (2 * Math.PI * f) ** 2;
        const r = Math.sqrt(tension ** 2 + 4 * EI * inertia);
        const alpha = Math.sqrt((tension + r) / (2 * EI));
        const beta = Math.sqrt((2 * inertia) / (tension + r));
        const phase = (k: number): number => Math.atan((k * beta) / (k * alpha + EI * (alpha ** 2 + beta ** 2)));
        expect(Math.abs(beta * L - phase(10) - phase(2) - (i + 1) * Math.PI)).toBeLessThan(
          2 * Math.exp(-alpha * L) + ROUNDING,
        );
      });
  });
  it('reaches the flexible string of two weights: cot(w/2) + 2 cot w = 0', () => {
    const member: Member = { sections: [section(0.5, 1, 1e-9, 1e-9, 0.1), section(0.5, 4, 1e-9, 1e-9, 0.4)] };
    const [first = 0] = run(member, 1, PINNED, 1);
    expect(2 * Math.PI * first).toBeCloseTo(2 * Math.atan(Math.SQRT2), 6);
  });
  it('meets the verification string of Thomson, Vibration Theory and Applications, p. 264, in US units turned to SI', () => {
    const inch = 0.0254;
    const area = 0.00306796 * inch ** 2;
    const density = 0.00073 * (4.4482216152605 / inch ** 4);
    const modulus = 30e6 * (4.4482216152605 / inch ** 2);
    // The manual's string has no bending stiffness.
    const bending = (modulus * area ** 2) / (4 * Math.PI) / 1e6;
    const string: Member = { sections: [section(100 * inch, density * area, bending, bending, modulus * area)] };
    expectClose(run(string, 500 * 4.4482216152605, PINNED, 3), [74.708, 149.42, 224.12], 2e-5 + HALF_A_DIGIT);
  });
});

describe('modes: cables', () => {
  it('has the second mode of the stay cable 3 of Mehrabi & Tabatabai, J. Struct. Eng. 124 (1998), 1313 (sag does not touch it)', () => {
    const bending = 2.0826e13 * 4.9204e-6;
    const cable: Member = { sections: [section(100, 400, bending, bending, 2.0826e13 * 0.00785)] };
    const fromMemory = 0.002;
    expect(Math.abs((run(cable, 26.13254e6, CLAMPED, 2)[1] as number) / 2.68 - 1)).toBeLessThan(fromMemory);
  });
});

describe('modes: crossings', () => {
  const X = crossed(A, 0.2);
  const pair = (partner: number, e: Ends): number[] =>
    run(X, 1000, e, 6, { kind: 'pair', partner: X, partnerTension: newtons(partner), partnerEnds: e });
  it('has the frozen tones of pairs tied at their crossing', () => {
    expectClose(
      pair(1000, CLAMPED),
      [413.2256276416, 564.6886442318, 850.979121087, 1183.0979451846, 1334.7979923256, 1874.0062388922],
      FROZEN,
    );
    const unequal = [
      366.4138319250956, 509.5025634404, 776.8001097861, 1040.7071129723, 1271.917358096, 1607.0469724649,
    ];
    expectClose(pair(600, CLAMPED), unequal, FROZEN);
    const pinned = [
      329.04801477621, 468.81075271864, 701.24359611095, 945.36603084516, 1161.27362068632, 1429.96248972021,
    ];
    expectClose(pair(600, PINNED), pinned, FROZEN);
  });
  it('meets two strings tied at a point (Caracoglia & Jones, J. Sound Vib. 279 (2005), 969) as bending vanishes', () => {
    const thin: Member = crossed({ sections: [section(0.27, 0.02481858196, 1e-9, 1e-9, 1)] }, 0.2);
    const got = run(thin, 1000, PINNED, 4, {
      kind: 'pair',
      partner: thin,
      partnerTension: newtons(600),
      partnerEnds: PINNED,
    });
    expectClose(got, [322.086149678, 442.97800536, 659.559243794, 833.470880988], 1e-4);
  });
  it('gives equal halves the tones of one half: pinned, and clamped at the middle', () => {
    const two = crossed(A, 0.135);
    expectClose(run(two, 1000, PINNED, 4, RIGID), [773.3552423, 850.9791211, 1713.698049, 1881.700754], 1e-9);
    expectClose(run(two, 1000, CLAMPED, 4, RIGID), [850.9791211, 943.5143781, 1881.700754, 2073.420557], 1e-9);
  });
  it('lets a soft support fade into none and a stiff one into a rigid one', () => {
    const soft: CrossingState = { kind: 'support', stiffness: newtonsPerMetre(1e-3) };
    const stiff: CrossingState = { kind: 'support', stiffness: newtonsPerMetre(1e13) };
    expectClose(run(X, 800, SPRUNG, 4, soft), run(X, 800, SPRUNG, 4), 1e-7);
    expectClose(run(X, 800, SPRUNG, 4, stiff), run(X, 800, SPRUNG, 4, RIGID), 1e-6);
  });
});

describe('modes: laws', () => {
  const member = fc
    .record({
      lengths: fc.array(fc.double({ min: 0.04, max: 0.12, noNaN: true }), { minLength: 1, maxLength: 4 }),
      diameters: fc.array(fc.double({ min: 0.0014, max: 0.003, noNaN: true }), { minLength: 4, maxLength: 4 }),
    })
    .map(({ lengths, diameters }): Member => ({ sections: lengths.map((l, i) => round(l, diameters[i] as number)) }));
  const tension = fc.double({ min: 20, max: 3000, noNaN: true });
  const stiffness = fc.double({ min: 0.1, max: 300, noNaN: true });

  it('raises every tone with tension, end stiffness and a held crossing', () =>
    fc.assert(
      fc.property(member, tension, stiffness, stiffness, (m, T, h, r) => {
        const base = run(m, T, ends(h, r), 4);
        const tighter = run(m, T * 1.1, ends(h, r), 4);
        const stiffer = run(m, T, ends(h * 1.5, r * 1.5), 4);
        const length = m.sections.reduce((sum, s) => sum + s.length, 0);
        const held = run(crossed(m, length * 0.3), T, ends(h, r), 4, RIGID);
        base.forEach((f, i) => {
          expect(tighter[i]).toBeGreaterThan(f);
          expect(stiffer[i]).toBeGreaterThan(f);
          expect(held[i]).toBeGreaterThan(f * (1 - 1e-9));
        });
      }),
      { numRuns: 60, seed: 1 },
    ));
  it('does not care where a uniform section is cut nor which way the member is turned', () =>
    fc.assert(
      fc.property(member, tension, stiffness, stiffness, (m, T, h, r) => {
        const halves: Member = {
          sections: m.sections.flatMap((s) => [
            round(s.length * 0.3, diameterOf(s)),
            round(s.length * 0.7, diameterOf(s)),
          ]),
        };
        expectClose(run(halves, T, ends(h, r), 4), run(m, T, ends(h, r), 4), 1e-9);
        const turned: Member = { sections: [...m.sections].reverse() };
        expectClose(run(turned, T, ends(r, h), 4), run(m, T, ends(h, r), 4), 1e-9);
      }),
      { numRuns: 60, seed: 2 },
    ));
  it('scales: mass by four halves every tone', () =>
    fc.assert(
      fc.property(member, tension, (m, T) => {
        const heavy: Member = {
          sections: m.sections.map((s) =>
            section(s.length, s.massPerLength * 1.21, s.bendingInPlane, s.bendingAcross, s.axial),
          ),
        };
        expectClose(
          run(heavy, T, SPRUNG, 3).map((f) => f * 1.1),
          run(m, T, SPRUNG, 3),
          1e-10,
        );
      }),
      { numRuns: 40, seed: 3 },
    ));
  it('makes mode 2n between clamps that of mode n of the half, clamped and pinned', () =>
    fc.assert(
      fc.property(tension, fc.integer({ min: 1, max: 3 }), (T, n) => {
        const half: Member = { sections: [round(0.135, 0.002)] };
        expect((run(A, T, CLAMPED, 2 * n)[2 * n - 1] as number) / (run(half, T, HALF, n)[n - 1] as number)).toBeCloseTo(
          1,
          9,
        );
      }),
      { numRuns: 40, seed: 4 },
    ));
  it('refuses what is impossible and names it', () => {
    expect(() => run({ sections: [] }, 500, PINNED, 1)).toThrow(/no section/);
    expect(() => run(A, -1, PINNED, 1)).toThrow(/tension is -1 N/);
    expect(() => run(A, Number.NaN, PINNED, 1)).toThrow(RangeError);
    expect(() => run(A, 500, ends(-1, 0), 1)).toThrow(/end stiffness is -1/);
    expect(() => run(A, 500, PINNED, 1, RIGID)).toThrow(/crossingFromHub is absent/);
  });
});

const diameterOf = (s: { massPerLength: number }): number => Math.sqrt((4 * s.massPerLength) / (Math.PI * 7900));
