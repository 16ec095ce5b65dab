import { degrees, metres, millimetres, radians } from '../units.ts';
import type { Heading, LaidSpoke, Point3 } from './laidSpoke.ts';
import { type LayoutRefusal, refuseLayout, refuseTogether } from './layoutRefusal.ts';
import { FEWEST_SPOKES, MOST_SPOKES } from './rimPlaces.ts';
import type { ListedLayout, ListedSpoke, Side } from './wheel.ts';

/** For the drawing alone: the hub circle's share of the rim's, about that of an ordinary wheel. */
const DRAWN_HUB = 0.09;
const DRAWN_RADIUS = 0.3;

/**
 * Lays out a wheel given spoke by spoke. Dimensions are taken as given; the hub's points, which a list does not tell, are placed for the
 * drawing so that spokes cross where the list says.
 */
export function layListed(
  layout: ListedLayout,
): { readonly ok: true; readonly spokes: readonly LaidSpoke[] } | LayoutRefusal {
  const count = layout.spokes.length;
  if (count < FEWEST_SPOKES || count > MOST_SPOKES)
    return refuseLayout('countOutOfRange', 'spokes', `${FEWEST_SPOKES}–${MOST_SPOKES}`);
  const wrong = refuseTogether(
    layout.spokes.map((spoke, i) => spokeWrong(spoke, i, layout.spokes)).filter((one) => one !== undefined),
  );
  if (wrong) return wrong;
  const angles = layout.spokes.map((spoke, i) => turned(spokeAngle(spoke, i, count)));
  const spokes = layout.spokes.map((spoke, i): LaidSpoke => {
    const angle = angles[i] ?? 0;
    const partner = spoke.crossingPartner;
    const touching = spoke.crossingFromHubMm !== undefined;
    const apart = partner === undefined ? undefined : signed((angles[partner - 1] ?? 0) - angle);
    const heading: Heading = apart === undefined ? 'radial' : apart > 0 ? 'trailing' : 'leading';
    const points = drawnPoints(spoke, angle, apart);
    return {
      number: i + 1,
      side: spoke.side,
      rimAngle: radians(angle),
      heading,
      ...points,
      schematic: true,
      supportLength: millimetres(spoke.supportLengthMm),
      crossings:
        touching && partner !== undefined ? [{ fromHub: millimetres(spoke.crossingFromHubMm), other: partner }] : [],
      touching,
      ...(touching ? { crossingFromHub: millimetres(spoke.crossingFromHubMm) } : {}),
      ...(touching && partner !== undefined ? { crossingPartner: partner } : {}),
      ...(spoke.bracingAngleDeg === undefined ? {} : { bracingAngle: degrees(spoke.bracingAngleDeg) }),
      ...(spoke.kindId === undefined ? {} : { kindId: spoke.kindId }),
    };
  });
  return { ok: true, spokes };
}

/** A wheel of which only the sides are known: evenly spaced, radial, no dimension. */
export function laySides(
  sides: readonly Side[],
): { readonly ok: true; readonly spokes: readonly LaidSpoke[] } | LayoutRefusal {
  const count = sides.length;
  if (count < FEWEST_SPOKES || count > MOST_SPOKES)
    return refuseLayout('countOutOfRange', 'sides', `${FEWEST_SPOKES}–${MOST_SPOKES}`);
  const spokes = sides.map((side, i): LaidSpoke => {
    const angle = ((i + 0.5) * 2 * Math.PI) / count;
    const points = drawnPoints({ side, supportLengthMm: 0 }, angle, undefined);
    return {
      number: i + 1,
      side,
      rimAngle: radians(angle),
      heading: 'radial',
      ...points,
      schematic: true,
      crossings: [],
      touching: false,
    };
  });
  return { ok: true, spokes };
}

const spokeAngle = (spoke: ListedSpoke, index: number, count: number): number =>
  spoke.rimAngleDeg === undefined ? ((index + 0.5) * 2 * Math.PI) / count : degrees(spoke.rimAngleDeg);

const turned = (angle: number): number => ((angle % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
/** Into −π … π. */
const signed = (angle: number): number => turned(angle + Math.PI) - Math.PI;

function spokeWrong(spoke: ListedSpoke, index: number, all: readonly ListedSpoke[]): LayoutRefusal | undefined {
  const at = (field: string) => `spokes.${index}.${field}`;
  if (!(spoke.supportLengthMm > 0))
    return refuseLayout('notPositive', at('supportLengthMm'), `${spoke.supportLengthMm}`);
  const crossing = spoke.crossingFromHubMm;
  if (crossing !== undefined && !(crossing > 0 && crossing < spoke.supportLengthMm))
    return refuseLayout('crossingOutsideSpoke', at('crossingFromHubMm'), `0–${spoke.supportLengthMm}`);
  const partner = spoke.crossingPartner;
  if (partner === undefined) return undefined;
  const mate = all[partner - 1];
  if (mate === undefined || partner === index + 1)
    return refuseLayout('partnerUnknown', at('crossingPartner'), `${partner}`);
  if (mate.crossingPartner !== undefined && mate.crossingPartner !== index + 1)
    return refuseLayout('partnerNotMutual', at('crossingPartner'), `${partner} ↔ ${mate.crossingPartner}`);
  return undefined;
}

/** Trailing spokes leave the hub ahead of their rim hole, by the angle that brings the crossing where the list says. */
function drawnPoints(
  spoke: ListedSpoke,
  angle: number,
  apart: number | undefined,
): { readonly hubPoint: Point3; readonly rimPoint: Point3 } {
  const hub = DRAWN_RADIUS * DRAWN_HUB;
  let lead = 0;
  if (apart !== undefined) {
    const fraction = (spoke.crossingFromHubMm ?? 0) / spoke.supportLengthMm;
    const half = Math.abs(apart) / 2;
    // The point at the fraction t of the line lies on the bisector: (1 − t)·r·sin(ψ − half) = t·R·sin(half).
    const sine = (fraction * DRAWN_RADIUS * Math.sin(half)) / ((1 - fraction) * hub);
    lead = Math.sign(apart) * (half + Math.asin(Math.min(1, sine)));
  }
  const lateral = (spoke.side === 'left' ? -1 : 1) * DRAWN_RADIUS * 0.1;
  const at = (radius: number, theta: number, z: number): Point3 => ({
    x: metres(radius * Math.sin(theta)),
    y: metres(radius * Math.cos(theta)),
    z: metres(z),
  });
  return { hubPoint: at(hub, angle + lead, lateral), rimPoint: at(DRAWN_RADIUS, angle, 0) };
}
