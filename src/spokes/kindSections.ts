import type { Section, Weighing } from '../physics/member.ts';
import { grams, kilogramsPerMetre, type Metres, metres, millimetres, newtonMetresSquared, newtons } from '../units.ts';
import { type DescribeRefusal, refuseDescription } from './describeRefusal.ts';
import { layerProperties, layerWrong } from './layerProperties.ts';
import type { KindSection, SpokeKind } from './wheel.ts';

/** Relative standard uncertainty of a mass per length that comes from dimensions and a catalogue. `common practice` */
export const CATALOGUE_MASS_RELATIVE = 0.01;
/** A scale of the kitchen kind, where nothing is said. `common practice` */
export const SCALE_G = 0.05;
/** What a kind without a section `rest` may differ from the wire in the wheel. */
const SLACK = millimetres(2);
/** A material whose modulus is this uncertain is itself what is unknown: weighing then tells its density, not its thickness. */
const MATERIAL_UNKNOWN = 0.08;

/** What was on the scale beyond the stated length; `unsaid`: a bent end or a straight head, either as likely. */
export type Head = 'elbow' | 'straight' | 'none' | 'unsaid';
/**
 * Bending stiffness of a weighed blade, relative: between ellipse and rectangle it grows as the power 2.0 to 2.2 of what the outline encloses.
 * @source area and second moment of superellipses |x|ⁿ + |y|ⁿ = 1, n from 2 on
 */
const BLADE_STIFFNESS = 0.03;
const isBlade = (section: KindSection | undefined): boolean =>
  section?.layers.some(({ shape }) => shape.form === 'oval' || shape.form === 'flat') ?? false;

/**
 * Metal beyond the spoke's stated length, as a length of the wire at the hub end: bent end from the inside of the elbow to the head,
 * with the head, or the upset head of a straight spoke. `common practice`, from the usual head of 4.3 × 1.2 mm and 6 mm of bent wire.
 */
const HEAD: Record<Head, { readonly length: Metres; readonly u: Metres }> = {
  elbow: { length: millimetres(9), u: millimetres(2) },
  straight: { length: millimetres(5), u: millimetres(1.5) },
  none: { length: millimetres(0), u: millimetres(0) },
  // Mean and spread of the two together.
  unsaid: { length: millimetres(7), u: millimetres(2.7) },
};
/** The length at which a loose spoke was weighed is read on a ruler. */
const RULER = millimetres(0.5);

export interface KindSections {
  readonly ok: true;
  /** Hub end first; together as long as the wire. */
  readonly sections: readonly Section[];
  readonly massRelative: number;
  readonly stiffnessRelative: number;
  /** Solved from weighing: which section, and its mass per length over the computed one. */
  readonly solved?: { readonly section: number; readonly factor: number };
  /** What weighing binds together, where the piece that it solved is the longest. */
  readonly weighed?: Weighing;
}

/**
 * The pieces of a spoke kind at the length it has in this wheel.
 *
 * One section may be the `rest`. A weighed spoke fixes the mass of the section that is least known: the rest, otherwise the longest without
 * a mass of its own. In metal the surplus means another thickness, so bending stiffness follows its square, and of a blade another outline, which
 * nobody measures; in round pieces of a material whose own figures are uncertain it means another density, and stiffness stays.
 *
 * @param wire From the hub's support to the end of the bare wire, metres, positive.
 * @param hidden Wire hidden in the nipple, which was weighed too, metres.
 */
export function kindSections(
  kind: SpokeKind,
  field: string,
  wire: Metres,
  hidden: Metres,
  head: Head,
): KindSections | DescribeRefusal {
  if (kind.sections.length === 0) return refuseDescription('noSections', `${field}.sections`, '1');
  const rests = kind.sections.filter((section) => section.lengthMm === 'rest').length;
  if (rests > 1) return refuseDescription('twoRests', `${field}.sections`, '1');
  let fixed = 0;
  for (const [i, section] of kind.sections.entries()) {
    const at = `${field}.sections.${i}`;
    if (section.layers.length === 0) return refuseDescription('noSections', `${at}.layers`, '1');
    for (const [j, layer] of section.layers.entries()) {
      const wrong = layerWrong(layer, `${at}.layers.${j}`);
      if (wrong) return wrong;
    }
    if (section.lengthMm === 'rest') continue;
    if (!(section.lengthMm > 0)) return refuseDescription('sectionsTooShort', `${at}.lengthMm`, '> 0 mm');
    fixed += millimetres(section.lengthMm);
  }
  // A loose spoke's last section runs on to the end of its thread: what the nipple hides comes off it again below.
  const unseen = kind.lengths === 'loose' ? hidden : 0;
  const room = wire + unseen - fixed;
  const inMm = (length: number) => `${(length * 1e3).toFixed(1)} mm`;
  if (room < (rests > 0 ? millimetres(1) : -SLACK))
    return refuseDescription('sectionsTooLong', `${field}.sections`, `${inMm(fixed)} > ${inMm(wire + unseen)}`);
  if (rests === 0 && room > SLACK)
    return refuseDescription('sectionsTooShort', `${field}.sections`, `${inMm(fixed)} < ${inMm(wire + unseen)}`);

  const lengths = kind.sections.map((section) => (section.lengthMm === 'rest' ? room : millimetres(section.lengthMm)));
  const longest = lengths.indexOf(Math.max(...lengths));
  // Without a rest the small difference goes into the longest piece.
  if (rests === 0) lengths[longest] = (lengths[longest] ?? 0) + room;
  const last = lengths.length - 1;
  const seen = (lengths[last] ?? 0) - unseen;
  if (!(seen > 0)) return refuseDescription('endInNipple', `${field}.sections.${last}.lengthMm`, `> ${inMm(unseen)}`);
  lengths[last] = seen;
  const computed = kind.sections.map((section) => layerProperties(section.layers));
  const masses: number[] = [];
  for (const [i, section] of kind.sections.entries()) {
    const stated = section.massPerLengthGPerM;
    const mass = stated === undefined ? (computed[i]?.massPerLength ?? 0) : grams(stated);
    if (!(mass > 1e-4 && mass < 1))
      return refuseDescription('massImpossible', `${field}.sections.${i}.massPerLengthGPerM`, '0.1–1000 g/m');
    masses.push(mass);
  }

  let solved: KindSections['solved'];
  let massRelative = Math.hypot(CATALOGUE_MASS_RELATIVE, computed[longest]?.uDensityRelative ?? 0);
  if (kind.sections[longest]?.massPerLengthGPerM !== undefined) massRelative = WEIGHED_PIECE_RELATIVE;
  if (kind.weighed) {
    const found = solveWeighed(kind, field, kind.weighed, lengths, masses, hidden, head);
    if (!found.ok) return found;
    const { section } = found;
    solved = { section, factor: found.mass / (computed[section]?.massPerLength ?? found.mass) };
    masses[section] = found.mass;
    massRelative = found.uRelative;
  }
  const byOutline = (i: number): boolean =>
    (computed[i]?.uModulusRelative ?? 0) < MATERIAL_UNKNOWN || isBlade(kind.sections[i]);
  const sections = computed.map((one, i): Section => {
    const thicker = solved?.section === i && byOutline(i) ? solved.factor : 1;
    return {
      length: metres(lengths[i] ?? 0),
      massPerLength: kilogramsPerMetre(masses[i] ?? 0),
      bendingInPlane: newtonMetresSquared(one.bendingInPlane * thicker ** 2),
      bendingAcross: newtonMetresSquared(one.bendingAcross * thicker ** 2),
      axial: newtons(one.axial * thicker),
      ...(one.shears ? { shear: newtons(one.shear * thicker) } : {}),
    };
  });
  const weighed = solved?.section === longest ? { sections: sections.length, bends: byOutline(longest) } : undefined;
  return {
    ok: true,
    sections,
    massRelative,
    // Bending goes with the fourth power of thickness where mass goes with the second; of a weighed piece the two are off together.
    stiffnessRelative: Math.hypot(
      computed[longest]?.uModulusRelative ?? 0,
      weighed?.bends ? 0 : 2 * CATALOGUE_MASS_RELATIVE,
      kind.weighed && isBlade(kind.sections[longest]) ? BLADE_STIFFNESS : 0,
    ),
    ...(solved ? { solved } : {}),
    ...(weighed ? { weighed } : {}),
  };
}

/** A piece of known length weighed by the person: scale and ruler together. `common practice` */
const WEIGHED_PIECE_RELATIVE = 0.005;

function solveWeighed(
  kind: SpokeKind,
  field: string,
  weighed: NonNullable<SpokeKind['weighed']>,
  lengths: readonly number[],
  masses: readonly number[],
  hidden: Metres,
  head: Head,
):
  | { readonly ok: true; readonly section: number; readonly mass: number; readonly uRelative: number }
  | DescribeRefusal {
  const open = kind.sections.flatMap((section, i) => (section.massPerLengthGPerM === undefined ? [i] : []));
  const rest = open.find((i) => kind.sections[i]?.lengthMm === 'rest');
  const section = rest ?? open.toSorted((a, b) => (lengths[b] ?? 0) - (lengths[a] ?? 0))[0];
  if (section === undefined) return refuseDescription('weighingContradicts', `${field}.weighed`, '–');
  if (!(weighed.massG > 0)) return refuseDescription('massImpossible', `${field}.weighed.massG`, '> 0 g');
  if (!(weighed.lengthMm > 0)) return refuseDescription('massImpossible', `${field}.weighed.lengthMm`, '> 0 mm');
  const last = lengths.length - 1;
  const restIndex = kind.sections.findIndex((one) => one.lengthMm === 'rest');
  const stretch = millimetres(weighed.lengthMm) - hidden - lengths.reduce((sum, length) => sum + length, 0);
  // Lengths of the loose spoke: it may be another than the wheel's (the other side's, for one); the difference lies in the rest.
  const loose = lengths.map(
    (length, i) =>
      length +
      (i === (restIndex === -1 ? section : restIndex) ? stretch : 0) +
      (i === last ? hidden : 0) +
      (i === 0 ? HEAD[head].length : 0),
  );
  const others = loose.reduce((sum, length, i) => sum + (i === section ? 0 : length * (masses[i] ?? 0)), 0);
  const span = loose[section] ?? 0;
  const mass = (grams(weighed.massG) - others) / span;
  const factor = mass / (masses[section] ?? 1);
  const expected = (others + span * (masses[section] ?? 0)) * 1e3;
  if (!(span > 0 && factor > 0.5 && factor < 2))
    return refuseDescription('weighingContradicts', `${field}.weighed.massG`, `${expected.toFixed(2)} g`);
  const uScale = grams(weighed.uG > 0 ? weighed.uG : SCALE_G);
  const uHead = HEAD[head].u * (masses[0] ?? 0);
  return { ok: true, section, mass, uRelative: Math.hypot(uScale, uHead, RULER * mass) / (span * mass) };
}
