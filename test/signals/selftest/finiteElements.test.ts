import { expect, test } from 'vitest';
import { beamModes } from '../finiteElements.ts';

const bending = (193e9 * Math.PI * 0.002 ** 4) / 64;
const massKgPerM = 7900 * Math.PI * 0.001 ** 2;
const wire = (lengthM: number) => [{ lengthM, massKgPerM, bending }];
const frequencies = (hubSpring: number, rimSpring: number, tensionN: number, count = 4): number[] =>
  beamModes({ pieces: wire(0.27), tensionN, hubSpring, rimSpring }, count, 0.002).modes.map((m) => m.frequencyHz);

/** Mesh error of 2 mm elements at the fourth mode, relative. */
const MESH_TOLERANCE = 2e-7;
const near = (seen: readonly number[], wanted: readonly number[], relative: number): void => {
  wanted.forEach((w, k) => {
    expect(Math.abs((seen[k] ?? Number.NaN) / w - 1)).toBeLessThan(relative);
  });
};

// Roots of 2αβ(1 − cosh αL cos βL) + (α² − β²) sinh αL sin βL = 0 and its pinned and sprung forms, 40 digits (Fletcher 1964, JASA 36:203).
test('a 2.0 mm wire of 270 mm at 1000 N has the frequencies of the exact equation, whatever its ends', () => {
  near(
    frequencies(Infinity, Infinity, 1000),
    [413.2256276428, 850.9791210774, 1334.797992324, 1881.700753874],
    MESH_TOLERANCE,
  );
  near(frequencies(Infinity, 0, 1000), [393.49476202, 810.497655979, 1271.970278294, 1794.883836241], MESH_TOLERANCE);
  near(frequencies(0, 0, 1000), [375.516427997, 773.3552423433, 1213.787942651, 1713.698049446], MESH_TOLERANCE);
  near(frequencies(10, 2, 300), [225.4169072121, 488.9125731977, 818.6671325482, 1231.769419978], MESH_TOLERANCE);
});

// Thomson, Theory of Vibration with Applications, App. D: βL = 4.7300, 7.8532, 10.9956 (clamped); nπ (pinned).
test('without tension a clamped bar has the textbook roots', () => {
  const roots = frequencies(Infinity, Infinity, 0, 3).map(
    (f) => 0.27 * Math.sqrt(2 * Math.PI * f * Math.sqrt(massKgPerM / bending)),
  );
  near(roots, [4.730040744862704, 7.853204624095838, 10.99560783800167], MESH_TOLERANCE);
});

// Blevins, Formulas for Natural Frequency and Mode Shape: two equal spans, from the single-span roots π, 3.9266, 2π, 7.0686.
test('a rigid support in the middle leaves the two families of the half span', () => {
  const { modes } = beamModes(
    {
      pieces: wire(0.27),
      tensionN: 1000,
      hubSpring: 0,
      rimSpring: 0,
      supports: [{ atM: 0.135, stiffnessNPerM: Infinity }],
    },
    4,
    0.002,
  );
  near(
    modes.map((m) => m.frequencyHz),
    [773.3552423433, 850.9791210774, 1713.698049446, 1881.700753874],
    MESH_TOLERANCE,
  );
});
