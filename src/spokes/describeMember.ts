import type { DescribedMember, EndPrior, Section } from '../physics/member.ts';
import { type Metres, metres, millimetres, newtonMetresPerRadian } from '../units.ts';
import { type DescribeRefusal, refuseDescription } from './describeRefusal.ts';
import { expandLayout } from './expandLayout.ts';
import { type Head, kindSections } from './kindSections.ts';
import type { LaidSpoke } from './laidSpoke.ts';
import { nippleSection } from './nippleSection.ts';
import type { Hub, SideSpokes, Wheel } from './wheel.ts';

/** Standard uncertainties where the wheel states none; a ruler is the person's or the author's of a list. `common practice` */
export const DEFAULT_UNCERTAINTY = {
  ruler: millimetres(0.5),
  computedLength: millimetres(1.5),
  crossing: millimetres(1.5),
  /** A taper has no edge to lay a ruler on. */
  sections: millimetres(1.5),
} as const;

/** Lengths of a spoke, computed and used: they differ where the person has measured. */
export interface SpokeLengths {
  readonly computedSupport: Metres;
  readonly support: Metres;
  readonly computedCrossingFromHub?: Metres;
  readonly crossingFromHub?: Metres;
  /** What rings with the crossing held: from the crossing, or the hub, to the rim's support. */
  readonly free: Metres;
}

export interface DescribedSpoke {
  readonly ok: true;
  readonly described: DescribedMember;
  readonly spoke: LaidSpoke;
  readonly lengths: SpokeLengths;
  readonly kindId: string;
  /** Spokes of one group share the errors of their description. */
  readonly group: string;
  /** The weighed section's mass per length over the computed one. */
  readonly weighedFactor?: number;
}

/** Describes one spoke of a wheel as the member that rings, with how sure each figure is. @param number From 1. */
export function describeMember(wheel: Wheel, number: number): DescribedSpoke | DescribeRefusal {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return { ...laid, field: `layout.${laid.field}` };
  const spoke = laid.spokes[number - 1];
  if (spoke === undefined) return refuseDescription('noSuchSpoke', 'layout', `1–${laid.spokes.length}`);
  return describeLaidSpoke(wheel, spoke);
}

/**
 * Describes a spoke that is laid out already.
 *
 * Sections of the kind in a row, the visible nipple as a stiff last piece, lengths as measured where they were measured. Internal nipples
 * add no piece: the wire itself is held where the rim's effective diameter was taken. A crossing that was not measured keeps
 * its place in proportion when the length was.
 */
export function describeLaidSpoke(wheel: Wheel, spoke: LaidSpoke): DescribedSpoke | DescribeRefusal {
  if (spoke.supportLength === undefined) return refuseDescription('evennessOnly', 'layout', '–');
  const side = wheel.sides?.[spoke.side];
  if (side === undefined) return refuseDescription('noSides', `sides.${spoke.side}`, '–');
  const kindId = spoke.kindId ?? side.kindId;
  const kind = Object.hasOwn(wheel.kinds, kindId) ? wheel.kinds[kindId] : undefined;
  if (kind === undefined) return refuseDescription('kindUnknown', `sides.${spoke.side}.kindId`, kindId);

  const at = `sides.${spoke.side}`;
  const lengths = usedLengths(spoke, spoke.supportLength, side, at);
  if ('reason' in lengths) return lengths;
  const external = side.nipple.kind === 'external';
  const exposed = external ? millimetres(side.nipple.exposedMm) : metres(0);
  const wire = metres(lengths.support - exposed);
  const head = kind.head ?? headOf(wheel);
  // A spoke's stated length ends in its nipple about as far as the nipple is seen.
  const laidKind = kindSections(kind, `kinds.${kindId}`, wire, exposed, head);
  if (!laidKind.ok) return laidKind;
  const sections: Section[] = [...laidKind.sections];
  const end = sections.at(-1);
  if (external && exposed > 0 && end) {
    const nipple = nippleSection(side.nipple, `${at}.nipple`, kind, end);
    if (!nipple.ok) return nipple;
    sections.push(nipple.section);
  }
  const priors = endPriors(side, at);
  if (priors && 'reason' in priors) return priors;
  const uncertainty = uncertainties(wheel, side, at, laidKind);
  if ('reason' in uncertainty) return uncertainty;
  return {
    ok: true,
    described: {
      member: {
        sections,
        ...(laidKind.weighed ? { weighed: laidKind.weighed } : {}),
        ...(lengths.crossingFromHub === undefined ? {} : { crossingFromHub: lengths.crossingFromHub }),
      },
      uncertainty,
      ...(priors ? { endPrior: priors } : {}),
    },
    spoke,
    lengths,
    kindId,
    group: `${spoke.side} ${kindId}`,
    ...(laidKind.solved ? { weighedFactor: laidKind.solved.factor } : {}),
  };
}

/** A list says nothing of the hub. */
export const headOf = ({ layout }: Wheel): Head => (layout.kind === 'laced' ? headAt(layout.hub) : 'unsaid');
export const headAt = ({ kind }: Hub): 'elbow' | 'straight' => (kind === 'straightPull' ? 'straight' : 'elbow');

function usedLengths(
  spoke: LaidSpoke,
  computedSupport: Metres,
  side: SideSpokes,
  at: string,
): SpokeLengths | DescribeRefusal {
  const measured = side.measured?.supportLengthMm?.value;
  const support = measured === undefined ? computedSupport : millimetres(measured);
  if (!(support > 0.02 && support < 1))
    return refuseDescription('measuredImpossible', `${at}.measured.supportLengthMm`, '20–1000 mm');
  const computed = spoke.crossingFromHub;
  if (computed === undefined) return { computedSupport, support, free: support };
  const toRim = side.measured?.crossingToRimMm?.value;
  if (toRim !== undefined && !(millimetres(toRim) > 0 && millimetres(toRim) < support))
    return refuseDescription(
      'measuredImpossible',
      `${at}.measured.crossingToRimMm`,
      `0–${(support * 1e3).toFixed(0)} mm`,
    );
  const crossingFromHub = metres(
    toRim === undefined ? (computed / computedSupport) * support : support - millimetres(toRim),
  );
  return {
    computedSupport,
    support,
    computedCrossingFromHub: computed,
    crossingFromHub,
    free: metres(support - crossingFromHub),
  };
}

function uncertainties(
  wheel: Wheel,
  side: SideSpokes,
  at: string,
  kind: { readonly massRelative: number; readonly stiffnessRelative: number },
): DescribedMember['uncertainty'] | DescribeRefusal {
  const stated = side.uncertainty ?? {};
  const percent = (value: number | undefined) => (value === undefined ? undefined : value / 100);
  const mm = (value: number | undefined) => (value === undefined ? undefined : millimetres(value));
  const uSupport = side.measured?.supportLengthMm && (mm(side.measured.supportLengthMm.u) ?? DEFAULT_UNCERTAINTY.ruler);
  const uCrossing =
    side.measured?.crossingToRimMm && (mm(side.measured.crossingToRimMm.u) ?? DEFAULT_UNCERTAINTY.ruler);
  // A list's lengths are somebody's measurements; a laced wheel's are computed.
  const typical = wheel.layout.kind === 'list' ? DEFAULT_UNCERTAINTY.ruler : DEFAULT_UNCERTAINTY.computedLength;
  const uncertainty = {
    massRelative: percent(stated.massPercent) ?? kind.massRelative,
    length: uSupport ?? mm(stated.lengthMm) ?? typical,
    crossing: uCrossing ?? mm(stated.crossingMm) ?? DEFAULT_UNCERTAINTY.crossing,
    sections: mm(stated.sectionsMm) ?? DEFAULT_UNCERTAINTY.sections,
    stiffnessRelative: percent(stated.stiffnessPercent) ?? kind.stiffnessRelative,
  };
  const bounds = [
    ['massPercent', uncertainty.massRelative, 0.5],
    ['lengthMm', uncertainty.length, 0.05],
    ['crossingMm', uncertainty.crossing, 0.1],
    ['sectionsMm', uncertainty.sections, 0.1],
    ['stiffnessPercent', uncertainty.stiffnessRelative, 1],
  ] as const;
  for (const [name, value, most] of bounds)
    if (!(value >= 0 && value <= most))
      return refuseDescription('uncertaintyImpossible', `${at}.uncertainty.${name}`, `${value}`);
  return uncertainty;
}

function endPriors(
  side: SideSpokes,
  at: string,
): NonNullable<DescribedMember['endPrior']> | DescribeRefusal | undefined {
  if (side.endStiffness === undefined) return undefined;
  const priors: { hub?: EndPrior; rim?: EndPrior } = {};
  for (const end of ['hub', 'rim'] as const) {
    const range = side.endStiffness[end];
    if (range === undefined) continue;
    if (
      !(
        range.lowNmPerRad > 0 &&
        range.highNmPerRad >= range.lowNmPerRad &&
        range.highNmPerRad < Number.POSITIVE_INFINITY
      )
    )
      return refuseDescription('endStiffnessImpossible', `${at}.endStiffness.${end}`, '0 < low ≤ high');
    priors[end] = { low: newtonMetresPerRadian(range.lowNmPerRad), high: newtonMetresPerRadian(range.highNmPerRad) };
  }
  return priors;
}
