import { type Metres, metres, millimetres, radians } from '../units.ts';
import type { Heading, LaidSpoke, Point3 } from './laidSpoke.ts';
import { type LayoutRefusal, refuseLayout, refuseTogether } from './layoutRefusal.ts';
import { type RimPlace, rimPlaces } from './rimPlaces.ts';
import type { Flange, LacedLayout, Side } from './wheel.ts';

/** A spoke before its crossings are known: the line from the hub's hole (or tangent point) to the rim. */
interface Line {
  readonly number: number;
  readonly side: Side;
  readonly place: RimPlace;
  readonly heading: Heading;
  /** Centre of the flange hole, or the point of the line nearest the axle. */
  readonly from: Point3;
  readonly to: Point3;
  /** From `from` to the support, along the line. */
  readonly supportOffset: number;
  readonly length: number;
  readonly lateral: number;
}

/**
 * Lays out a laced wheel spoke by spoke.
 *
 * Each side's hub holes are evenly spaced and turned to lie, in the mean, under the rim holes they serve; a spoke with k crosses leaves
 * k hub holes ahead of its rim hole (trailing) or behind it (leading), in turn. A crossed straight-pull spoke leaves along the
 * tangent to its pitch circle instead. Lengths are the distance in space less half the hole, crossings the intersections of the
 * straight spokes of a side seen along the axle.
 *
 * @source Law of cosines in space: l = √(R² + r² + w² − 2Rr cos ψ) − d/2, ψ = 720°·k/N for even holes (from memory; the trade's usual
 *   formula)
 * @validity Spokes straight; flange thickness, the bend of interlaced spokes around each other and the rim's staggered holes are neglected
 *   (together under 1.5 mm, which is the default uncertainty of a computed length).
 */
export function layLaced(
  layout: LacedLayout,
): { readonly ok: true; readonly spokes: readonly LaidSpoke[] } | LayoutRefusal {
  const rim = layout.rim.effectiveDiameterMm;
  if (!(rim > 0)) return refuseLayout('notPositive', 'rim.effectiveDiameterMm', `${rim}`);
  const holes = rimPlaces(layout);
  const sides = (['left', 'right'] as const).map(
    (side) => sideDimensionsWrong(layout, side) ?? (holes.ok ? sideLines(layout, side, holes.places) : holes),
  );
  const refused = refuseTogether([...new Set(sides.filter((one) => !one.ok))]);
  if (refused) return refused;
  const lines = sides.flatMap((one) => (one.ok ? one.lines : []));
  const spokes: LaidSpoke[] = [];
  for (const line of lines.toSorted((a, b) => a.number - b.number)) {
    const mates = lines.filter((mate) => mate.side === line.side && mate !== line);
    const spoke = finish(layout, line, mates);
    if (spoke.heading !== 'radial' && spoke.crossings.length === 0)
      return refuseLayout(
        'headBeyondCrossing',
        `hub.${line.side}.headOffsetMm`,
        `${layout.hub[line.side].headOffsetMm}`,
      );
    spokes.push(spoke);
  }
  return { ok: true, spokes };
}

function sideDimensionsWrong(layout: LacedLayout, side: Side): LayoutRefusal | undefined {
  const rim = layout.rim.effectiveDiameterMm;
  const { pitchCircleDiameterMm: pitch, holeDiameterMm: hole } = layout.hub[side];
  const { crosses } = layout.lacing[side];
  if (!(pitch > 0)) return refuseLayout('notPositive', `hub.${side}.pitchCircleDiameterMm`, `${pitch}`);
  if (layout.hub.kind === 'elbow' && !(hole > 0))
    return refuseLayout('notPositive', `hub.${side}.holeDiameterMm`, `${hole}`);
  if (pitch + (hole || 0) >= rim) return refuseLayout('rimInsideHub', `hub.${side}.pitchCircleDiameterMm`, `< ${rim}`);
  if (!Number.isInteger(crosses) || crosses < 0)
    return refuseLayout('crossesNotWhole', `lacing.${side}.crosses`, `${crosses}`);
  return undefined;
}

function sideLines(
  layout: LacedLayout,
  side: Side,
  places: readonly RimPlace[],
): { readonly ok: true; readonly lines: readonly Line[] } | LayoutRefusal {
  const { crosses, firstHeading = 'trailing' } = layout.lacing[side];
  const flange = layout.hub[side];
  const own = places.map((place, i) => ({ place, number: i + 1 })).filter((one) => one.place.side === side);
  const count = own.length;
  if (crosses > 0 && count % 2 !== 0) return refuseLayout('sideCountOdd', `lacing.${side}.crosses`, `0 (${count})`);
  const pitch = (2 * Math.PI) / count;
  const rimRadius = millimetres(layout.rim.effectiveDiameterMm) / 2;
  const hubRadius = millimetres(flange.pitchCircleDiameterMm) / 2;
  // Beyond the tangent the spoke would run inside its own pitch circle, over the heads of its neighbours.
  const tangent = Math.acos(hubRadius / rimRadius);
  const most = Math.floor(tangent / pitch + 1e-9);
  if (crosses > most) return refuseLayout('tooManyCrosses', `lacing.${side}.crosses`, `0–${most}`);
  const turn = meanTurn(own.map((one, j) => one.place.angle - j * pitch));
  const lines = own.map(({ place, number }, j): Line => {
    const trails = (j % 2 === 0) === (firstHeading === 'trailing');
    const sign = trails ? 1 : -1;
    const straightPull = layout.hub.kind === 'straightPull' && crosses > 0;
    const hubAngle = straightPull ? place.angle + sign * tangent : turn + j * pitch + sign * crosses * pitch;
    const hubZ = (side === 'left' ? -1 : 1) * millimetres(flange.centreDistanceMm);
    const rimZ = millimetres(layout.rim.offsetMm);
    const from = point(hubRadius, hubAngle, hubZ);
    const to = point(rimRadius, place.angle, rimZ);
    return {
      number,
      side,
      place,
      heading: crosses === 0 ? 'radial' : trails ? 'trailing' : 'leading',
      from,
      to,
      supportOffset: supportOffset(layout.hub.kind, flange, crosses),
      length: Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z),
      lateral: (side === 'left' ? -1 : 1) * (hubZ - rimZ),
    };
  });
  return { ok: true, lines };
}

/** Straight-pull spokes, uncrossed, leave from the pitch circle itself; their seat is on it. */
const supportOffset = (kind: 'elbow' | 'straightPull', flange: Flange, crosses: number): number =>
  kind === 'elbow' ? millimetres(flange.holeDiameterMm) / 2 : crosses > 0 ? millimetres(flange.headOffsetMm ?? 0) : 0;

function meanTurn(angles: readonly number[]): number {
  const sine = angles.reduce((sum, a) => sum + Math.sin(a), 0);
  const cosine = angles.reduce((sum, a) => sum + Math.cos(a), 0);
  return Math.atan2(sine, cosine);
}

const point = (radius: number, angle: number, z: number): Point3 => ({
  x: metres(radius * Math.sin(angle)),
  y: metres(radius * Math.cos(angle)),
  z: metres(z),
});

function finish(layout: LacedLayout, line: Line, mates: readonly Line[]): LaidSpoke {
  const { crosses, touching } = layout.lacing[line.side];
  const crossings = mates
    .flatMap((mate) => {
      const fraction = crossingFraction(line, mate);
      return fraction === undefined
        ? []
        : [{ fromHub: metres(fraction * line.length - line.supportOffset), other: mate.number }];
    })
    .filter((crossing) => crossing.fromHub > 0)
    .toSorted((a, b) => a.fromHub - b.fromHub)
    // Lines of a straight-pull hub meet once more beside the heads than the pattern's name says: the outermost are meant.
    .slice(-crosses);
  const outermost = crosses > 0 ? crossings.at(-1) : undefined;
  const along = line.supportOffset / line.length;
  const hubPoint: Point3 = {
    x: metres(line.from.x + along * (line.to.x - line.from.x)),
    y: metres(line.from.y + along * (line.to.y - line.from.y)),
    z: metres(line.from.z + along * (line.to.z - line.from.z)),
  };
  const supportLength: Metres = metres(line.length - line.supportOffset);
  const touches = touching && outermost !== undefined;
  return {
    number: line.number,
    side: line.side,
    rimAngle: line.place.angle,
    heading: line.heading,
    hubPoint,
    rimPoint: line.to,
    schematic: false,
    supportLength,
    crossings: crosses > 0 ? crossings : [],
    touching: touches,
    ...(touches ? { crossingFromHub: outermost.fromHub, crossingPartner: outermost.other } : {}),
    bracingAngle: radians(Math.asin(line.lateral / line.length)),
  };
}

/** Where, as a fraction from hub to rim, the mate's line crosses this one seen along the axle. */
function crossingFraction(line: Line, mate: Line): number | undefined {
  const ax = line.to.x - line.from.x;
  const ay = line.to.y - line.from.y;
  const bx = mate.to.x - mate.from.x;
  const by = mate.to.y - mate.from.y;
  const determinant = ax * by - ay * bx;
  if (Math.abs(determinant) < 1e-12) return undefined;
  const dx = mate.from.x - line.from.x;
  const dy = mate.from.y - line.from.y;
  const own = (dx * by - dy * bx) / determinant;
  const theirs = (dx * ay - dy * ax) / determinant;
  const inside = (t: number) => t > 0 && t < 1;
  return inside(own) && inside(theirs) ? own : undefined;
}
