import { expect } from 'vitest';
import { blade, bonded, carbonRod, type Kind, round, sleeve, tube } from '../signals/catalogue.ts';
import type { Piece } from '../signals/finiteElements.ts';
import { seededRandom } from '../signals/random.ts';
import type { WheelSpoke } from '../signals/round.ts';
import type { Hand } from './hand.ts';

type Side = 'left' | 'right';
const SIDES = ['left', 'right'] as const;
/** The form shows tenths of a millimetre. */
const LENGTH_TOLERANCE_MM = 0.06;

/** A wheel as a person would describe it, and what it is made of. */
export interface BenchedWheel {
  readonly name: string;
  /** On the button of what it is most like. */
  readonly start: string;
  /** What is typed into fields without folding anything out. */
  readonly fields: Readonly<Record<string, string>>;
  readonly hubAndRim: Readonly<Record<string, string>>;
  readonly nipple?: string;
  readonly kind: Kind;
  /** Wire alone, from the hub's support to the nipple's seat. */
  readonly wire: (supportLengthM: number, nippleM: number) => readonly Piece[];
  /** Bent wire and head beyond the support, or the upset head of a straight spoke. `common practice` */
  readonly headM: number;
  readonly nippleM: number;
  readonly nippleMaterial: 'brass' | 'aluminium';
  readonly tensionN: Readonly<Record<Side, number>>;
  readonly maximumN: number;
  /** Lengths are read off a ruler too: where the rim's holes are uneven, a side's spokes differ by computation. */
  readonly byRuler?: boolean;
  /** Side of each of the first places. */
  readonly sides: readonly Side[];
  /** Hub support to nipple seat, mm, from the trade's usual formula; absent where holes are not even. */
  readonly lengthMm?: Readonly<Record<Side, number>>;
}

/**
 * Length of a spoke, mm: law of cosines in space less half the flange hole. (from memory; the trade's usual formula)
 *
 * @param width from the rim's spoke plane to the flange
 */
const elbowMm = (rim: number, circle: number, width: number, hole: number, crosses: number, count: number): number => {
  const angle = (2 * Math.PI * crosses) / (count / 2);
  return Math.sqrt(rim ** 2 / 4 + circle ** 2 / 4 + width ** 2 - (rim * circle * Math.cos(angle)) / 2) - hole / 2;
};
/** A straight spoke leaves along the tangent: Pythagoras in space. */
const tangentMm = (rim: number, circle: number, width: number): number =>
  Math.sqrt(rim ** 2 / 4 - circle ** 2 / 4 + width ** 2);

/** Thick ends of 20 and 25 mm in sight, as the catalogue of the app says of its kinds; the rim end's goes on into the nipple. */
const butted =
  (middle: (lengthM: number) => Piece) =>
  (l: number, nippleM: number): readonly Piece[] => [
    round(2, 'steel', 0.02),
    middle(l - 0.045 - nippleM),
    round(2, 'steel', 0.025 + nippleM),
  ];
const bladed = butted((l) => blade(2.2, 0.9, 'steel', l));
const composite = (l: number, nippleM: number): readonly Piece[] => [
  round(2.2, 'steel', 0.006),
  sleeve(3.6, 2.6, 'steel', 0.025),
  carbonRod(2.6, l - 0.068 - nippleM),
  sleeve(3.6, 2.6, 'steel', 0.025),
  round(2.2, 'steel', 0.012 + nippleM),
];
const bothSides = (fields: Readonly<Record<string, readonly [string, string]>>): Record<string, string> =>
  Object.fromEntries(
    Object.entries(fields).flatMap(([label, [left, right]]) => [
      [`${label}, left`, left],
      [`${label}, right`, right],
    ]),
  );

export const FIVE_WHEELS: readonly BenchedWheel[] = [
  {
    name: 'radial front',
    start: 'Front, 20 spokes, radial',
    fields: { Spokes: '24' },
    hubAndRim: {
      'Effective rim diameter': '565',
      ...bothSides({ 'Spoke circle': ['40', '40'], 'Centre to flange': ['35', '35'], 'Flange hole': ['2,5', '2,5'] }),
    },
    kind: 'blade2.2x0.9',
    wire: bladed,
    headM: 0.009,
    nippleM: 0.008,
    nippleMaterial: 'aluminium',
    tensionN: { left: 850, right: 850 },
    maximumN: 1200,
    sides: ['left', 'right', 'left', 'right'],
    lengthMm: { left: elbowMm(565, 40, 35, 2.5, 0, 24), right: elbowMm(565, 40, 35, 2.5, 0, 24) },
  },
  {
    name: 'two-cross composite straight-pull rear with an offset rim',
    start: 'Rear, 24 composite spokes, straight pull',
    fields: {},
    hubAndRim: {
      'Effective rim diameter': '558',
      ...bothSides({ 'Spoke circle': ['52', '54'], 'Centre to flange': ['35', '19'] }),
      'Rim offset, to the right': '-3',
    },
    kind: 'compositeRod',
    wire: composite,
    headM: 0.005,
    nippleM: 0.008,
    nippleMaterial: 'aluminium',
    tensionN: { left: 750, right: 1100 },
    maximumN: 1250,
    sides: ['left', 'right', 'left', 'right'],
    lengthMm: { left: tangentMm(558, 52, 32), right: tangentMm(558, 54, 22) },
  },
  {
    name: 'three-cross 36',
    start: 'Rear, 36 steel spokes',
    fields: {},
    hubAndRim: {
      'Effective rim diameter': '604',
      ...bothSides({ 'Spoke circle': ['58', '58'], 'Centre to flange': ['36', '20'], 'Flange hole': ['2.6', '2.6'] }),
    },
    kind: 'plain2.0',
    wire: (l) => [round(2, 'steel', l)],
    headM: 0.009,
    nippleM: 0.008,
    nippleMaterial: 'brass',
    tensionN: { left: 560, right: 1000 },
    maximumN: 1200,
    sides: ['left', 'right', 'left', 'right'],
    lengthMm: { left: elbowMm(604, 58, 36, 2.6, 3, 36), right: elbowMm(604, 58, 20, 2.6, 3, 36) },
  },
  {
    name: '20 bladed spokes, two to one',
    start: 'Rear, 21 bladed spokes, two to one',
    fields: { Spokes: '20', 'Spokes on the fuller side': '14' },
    hubAndRim: {
      'Effective rim diameter': '572',
      ...bothSides({ 'Spoke circle': ['40', '50'], 'Centre to flange': ['37', '18'] }),
    },
    kind: 'blade2.2x0.9',
    wire: bladed,
    headM: 0.005,
    nippleM: 0.008,
    nippleMaterial: 'aluminium',
    tensionN: { left: 900, right: 950 },
    maximumN: 1250,
    byRuler: true,
    sides: ['right', 'left', 'right', 'right'],
  },
  {
    name: 'internal nipples',
    start: 'Front, 32 steel spokes',
    fields: { Spokes: '28' },
    hubAndRim: {
      'Effective rim diameter': '548',
      ...bothSides({ 'Spoke circle': ['38', '38'], 'Centre to flange': ['35', '35'], 'Flange hole': ['2.5', '2.5'] }),
    },
    nipple: 'internal',
    kind: 'butted2.0/1.8',
    wire: butted((l) => round(1.8, 'steel', l)),
    headM: 0.009,
    nippleM: 0,
    nippleMaterial: 'aluminium',
    tensionN: { left: 900, right: 900 },
    maximumN: 1200,
    sides: ['left', 'right', 'left', 'right'],
    lengthMm: { left: elbowMm(548, 38, 35, 2.5, 3, 28), right: elbowMm(548, 38, 35, 2.5, 3, 28) },
  },
];

/** What the form says of a side's lengths, mm. */
export interface ShownLengths {
  readonly support: number;
  /** From the crossing to the rim; absent where nothing touches. */
  readonly free?: number;
}

/** Describes the wheel from an empty shelf; stops before it is saved, with everything filled in. */
export async function fillIn(hand: Hand, wheel: BenchedWheel): Promise<Readonly<Record<Side, ShownLengths>>> {
  await hand.tap('Understood');
  await hand.tap('New wheel');
  await hand.tap(wheel.start);
  await hand.fill('Name', wheel.name);
  for (const [label, value] of Object.entries(wheel.fields)) await hand.fill(label, value);
  await hand.unfold('Hub and rim');
  for (const [label, value] of Object.entries(wheel.hubAndRim)) await hand.fill(label, value);
  if (wheel.nipple !== undefined) {
    await hand.unfold('Spokes');
    for (const side of SIDES) await hand.choose(`Nipple, ${side}`, wheel.nipple);
  }
  await hand.unfold('Lengths by ruler');
  const shown = await hand.evaluate(() =>
    ['left', 'right'].map((side) => {
      const text = document.querySelector(`[aria-label="Lengths, ${side}"] .figures`)?.textContent ?? '';
      return [/Computed: ([\d.]+)\smm/.exec(text)?.[1], /([\d.]+)\smm of it from the crossing/.exec(text)?.[1]];
    }),
  );
  const [left, right] = shown.map(([support, free]) => ({
    support: Number(support),
    ...(free === undefined ? {} : { free: Number(free) }),
  })) as [ShownLengths, ShownLengths];
  const lengths = { left, right };
  if (wheel.byRuler)
    for (const side of SIDES) {
      await hand.fill(`Hub support to nipple seat, ${side}`, `${lengths[side].support}`);
      const { free } = lengths[side];
      if (free !== undefined) await hand.fill(`Crossing to nipple seat, ${side}`, `${free}`);
    }
  // One spoke of the drawer on a scale: what a catalogue cannot know.
  if (wheel.kind !== 'plain2.0') {
    await hand.unfold('Spokes');
    const looseM = left.support / 1e3;
    const pieces = wheel.wire(looseM, wheel.nippleM);
    const headKg = (pieces[0]?.massKgPerM ?? 0) * wheel.headM;
    const massG = 1e3 * (pieces.reduce((sum, p) => sum + p.massKgPerM * p.lengthM, 0) + headKg);
    await hand.fill('A loose spoke weighs', massG.toFixed(2));
    await hand.fill('and is this long', (1e3 * looseM).toFixed(1));
  }
  await hand.unfold('Limits and target');
  for (const side of SIDES) await hand.fill(`Maximum, ${side}`, `${wheel.maximumN}`);
  await hand.fill('Where the figures come from', 'the rim’s label');
  return lengths;
}

/** The first spokes of the wheel; the third is a third too tight. */
export function benchedSpokes(wheel: BenchedWheel, lengths: Readonly<Record<Side, ShownLengths>>): WheelSpoke[] {
  const random = seededRandom(`five|${wheel.name}`);
  return wheel.sides.map((side, i): WheelSpoke => {
    const supportM = lengths[side].support / 1e3;
    const { free } = lengths[side];
    const wire = wheel.wire(supportM, wheel.nippleM);
    return {
      side,
      kind: wheel.kind,
      pieces: wheel.nippleM === 0 ? wire : withNipple(wire, wheel),
      tensionN: wheel.tensionN[side] * (1 + random.normal(0, 0.02)) * (i === 2 ? 1.3 : 1),
      hub: { inPlane: 20, across: 20 },
      rim: { inPlane: 20, across: 20 },
      ...(free === undefined ? {} : { crossingFromHubM: supportM - free / 1e3 }),
    };
  });
}

/** The end of the wire inside the visible nipple. */
function withNipple(wire: readonly Piece[], { nippleM, nippleMaterial }: BenchedWheel): readonly Piece[] {
  const end = wire.at(-1);
  if (end === undefined) return wire;
  const scaled = (lengthM: number): Piece => ({ ...end, lengthM });
  const cover = tube(4, end.massKgPerM > 0.028 ? 2.2 : 2, nippleMaterial, nippleM);
  return [...wire.slice(0, -1), scaled(end.lengthM - nippleM), bonded(cover, scaled(nippleM))];
}

/** The same spoke plucked across the wheel: what moves along the axle is what the simulated hand plucks. */
export const pluckedAcross = (spoke: WheelSpoke): WheelSpoke => ({
  ...spoke,
  pieces: spoke.pieces.map((p) => ({ ...p, bendingInPlane: p.bendingAcross, bendingAcross: p.bendingInPlane })),
});

/** As the start screen says it of this side. */
export function pluckedAs(steps: readonly string[], side: 'left' | 'right'): 'along the rim' | 'across the wheel' {
  const said = steps.filter((step) => /along the rim|across the wheel/.test(step));
  const own = said.find((step) => step.toLowerCase().startsWith(`${side} side`)) ?? said[0] ?? '';
  return own.includes('across the wheel') ? 'across the wheel' : 'along the rim';
}

/** Nothing typed stands in the way, and the lengths are those of the trade's formula. */
export async function expectThatItFits(
  hand: Hand,
  wheel: BenchedWheel,
  shown: Readonly<Record<'left' | 'right', ShownLengths>>,
): Promise<void> {
  expect(await hand.evaluate(() => document.querySelectorAll('[aria-invalid=true]').length)).toBe(0);
  expect(await hand.sees('in the way')).toBe(false);
  for (const side of ['left', 'right'] as const)
    if (wheel.lengthMm)
      expect(Math.abs(shown[side].support - wheel.lengthMm[side]), `${side} length`).toBeLessThan(LENGTH_TOLERANCE_MM);
}
