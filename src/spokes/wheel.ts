/**
 * The wheel as it is saved: plain JSON, units in the names, one file a wheel. `docs/wheel-file.md` tells each field in words and
 * `wheelFile.ts` is the only gate through which a file comes in.
 */
import type { CaptureSettings, HeardFlag, How, Hypothesis, Tone } from '../contract.ts';
import type { TensionUnit } from '../units.ts';
import type { Gauge } from './gauge.ts';
import type { Side } from './side.ts';
import type { WheelState } from './wheelState.ts';

export type { Side } from './side.ts';
export type { WheelState } from './wheelState.ts';

export const WHEEL_FORMAT = 'ringtrue-wheel';
export const WHEEL_VERSION = 1;

export interface WheelFile {
  readonly format: typeof WHEEL_FORMAT;
  readonly version: typeof WHEEL_VERSION;
  readonly wheel: Wheel;
}

export interface Wheel {
  /** Stable and unique; imports merge by it. */
  readonly id: string;
  readonly name: string;
  readonly note?: string;
  /** ISO 8601, UTC. */
  readonly createdAt: string;
  readonly changedAt: string;
  readonly layout: Layout;
  /** Absent with an `evenness` layout: then no absolute tension is computed or implied. */
  readonly sides?: { readonly left: SideSpokes; readonly right: SideSpokes };
  /** Spoke kinds this wheel uses, by their id. Self-contained: a file never points at a catalogue outside itself. */
  readonly kinds: Readonly<Record<string, SpokeKind>>;
  /** Evenness target, ± percent of the side's mean. Default 5, `common practice`. */
  readonly targetPercent: number;
  /** How the wheel stands now; each round keeps its own copy. */
  readonly state: WheelState;
  readonly calibrations: readonly Calibration[];
  /** Second instruments put on this wheel, and what they read. */
  readonly gauges?: readonly Gauge[];
  readonly rounds: readonly Round[];
}

/** Three ways to say where the spokes are; `expandLayout.ts` makes a list of laid spokes of each. */
export type Layout = LacedLayout | ListedLayout | EvennessLayout;

export interface LacedLayout {
  readonly kind: 'laced';
  readonly spokeCount: number;
  readonly hub: Hub;
  readonly rim: Rim;
  readonly lacing: Lacing;
}

export interface Hub {
  /** `elbow`: spokes pass through flange holes; `straightPull`: they leave along a line at `pitchCircle`/2 from the axle. */
  readonly kind: 'elbow' | 'straightPull';
  readonly left: Flange;
  readonly right: Flange;
}
export interface Flange {
  readonly pitchCircleDiameterMm: number;
  /** From the hub's centre plane (midway between the locknuts) to the flange, positive outwards. */
  readonly centreDistanceMm: number;
  /** Elbow hubs. */
  readonly holeDiameterMm: number;
  /** Straight-pull hubs, crossed: from the point nearest the axle to the head's seat, along the spoke towards the rim. Default 0. */
  readonly headOffsetMm?: number;
}
export interface Rim {
  /** Diameter on which the spokes' rim supports lie: the nipple seats; with internal nipples the rim's inner wall. */
  readonly effectiveDiameterMm: number;
  /** Of the spoke holes from the rim's centre plane; positive towards the right. */
  readonly offsetMm: number;
  readonly material: 'aluminium' | 'composite' | 'steel' | 'unknown';
  /** How much the rim gives (MODEL.md); without it no state is corrected. */
  readonly stiffnessClass?: 'light' | 'medium' | 'stiff';
}
export interface Lacing {
  /** `alternating`: left, right, left …; `paired`: two spokes close together at the rim; `twoToOne`: one side has twice the spokes. */
  readonly pattern: 'alternating' | 'paired' | 'twoToOne';
  /** Side of spoke 1, the first after the valve hole seen from the right, going clockwise. */
  readonly firstSide: Side;
  readonly left: LacedSide;
  readonly right: LacedSide;
  /** `twoToOne`: the side with twice the spokes. */
  readonly moreSide?: Side;
  /** `twoToOne`: how many spokes that side has, where the count does not divide by three. */
  readonly moreCount?: number;
  /** `paired`: distance at the rim between the two of a pair. */
  readonly pairSpacingMm?: number;
}
export interface LacedSide {
  readonly crosses: number;
  /** Crossed spokes touch at the outermost crossing. Straight-pull spokes may pass each other without. */
  readonly touching: boolean;
  /** Of the side's first spoke after the valve hole; the next heads the other way. Default `trailing`. */
  readonly firstHeading?: 'leading' | 'trailing';
}

export interface ListedLayout {
  readonly kind: 'list';
  /** In the order round the rim, the first after the valve hole. */
  readonly spokes: readonly ListedSpoke[];
}
export interface ListedSpoke {
  readonly side: Side;
  /** Angle at the rim, from the valve hole, clockwise seen from the right. Default: even. */
  readonly rimAngleDeg?: number;
  /** From the hub's support (flange edge or head seat) to the rim's support (nipple seat), under tension. */
  readonly supportLengthMm: number;
  /** From the hub's support to the outermost touching crossing. Absent: none touches. */
  readonly crossingFromHubMm?: number;
  /** Number (from 1) of the spoke that it touches. */
  readonly crossingPartner?: number;
  /** Overrides the side's kind. */
  readonly kindId?: string;
  /** Of the spoke against the wheel's plane, towards its flange; for the side ratio. */
  readonly bracingAngleDeg?: number;
}

/** Spoke count and sides alone: relative tension only. */
export interface EvennessLayout {
  readonly kind: 'evenness';
  readonly sides: readonly Side[];
}

export interface SideSpokes {
  readonly kindId: string;
  readonly nipple: Nipple;
  /** Measured with a ruler; takes the place of the computed figure. */
  readonly measured?: {
    readonly supportLengthMm?: Measured;
    /** From the crossing to the rim's support. */
    readonly crossingToRimMm?: Measured;
  };
  /** Standard uncertainties of computed figures; defaults in `describeMember.ts`. */
  readonly uncertainty?: {
    readonly lengthMm?: number;
    readonly crossingMm?: number;
    /** Where one section of the spoke ends and the next begins. */
    readonly sectionsMm?: number;
    readonly massPercent?: number;
    readonly stiffnessPercent?: number;
  };
  /** What is known of the end supports, N·m/rad, log-uniform between the two. Absent: the broad prior. */
  readonly endStiffness?: {
    readonly hub?: { readonly lowNmPerRad: number; readonly highNmPerRad: number };
    readonly rim?: { readonly lowNmPerRad: number; readonly highNmPerRad: number };
  };
  readonly limits?: Limits;
}
export interface Measured {
  readonly value: number;
  readonly u: number;
}

export interface Nipple {
  /** `internal`: hidden in the rim, the wire itself is supported at the rim's inner wall. */
  readonly kind: 'external' | 'internal';
  readonly lengthMm: number;
  /** Visible between the rim and the spoke's bare wire: the part that rings with the spoke. */
  readonly exposedMm: number;
  readonly outerDiameterMm: number;
  readonly material: Material;
}

/** Maker's limits of one side. What the maker does not say is absent, never invented. */
export interface Limits {
  readonly minimumN?: number;
  readonly maximumN?: number;
  /** Unit in which they were stated. */
  readonly unit: TensionUnit;
  /** Where the figure comes from. */
  readonly source: string;
  /** State for which they hold. */
  readonly state: WheelState;
}

/** A spoke by dimension and material, hub end first. */
export interface SpokeKind {
  readonly id: string;
  readonly name: string;
  /** At most one section has the length `rest`. Lengths count from the hub's support; where the last one ends, `lengths` says. */
  readonly sections: readonly KindSection[];
  /** Where its sections were measured: in the wheel, up to the nipple, or on the loose spoke, up to the end of its thread. Default `inWheel`. */
  readonly lengths?: 'inWheel' | 'loose';
  /** A whole loose spoke put on a scale: fixes the mass of the sections whose dimensions are least known. */
  readonly weighed?: { readonly massG: number; readonly uG: number; readonly lengthMm: number };
  /** Where the dimensions come from. */
  readonly source: string;
  /** What is weighed with it beyond its length: the bent end and head, the straight head, or nothing. Default: by the hub; in a list one or the other. */
  readonly head?: 'elbow' | 'straight' | 'none';
}
export interface KindSection {
  readonly name: string;
  readonly lengthMm: number | 'rest';
  /** Bonded together: their stiffnesses and masses add. */
  readonly layers: readonly Layer[];
  /** Known from weighing a piece; takes the place of the computed figure. */
  readonly massPerLengthGPerM?: number;
}
export interface Layer {
  readonly shape: Shape;
  readonly material: Material;
}
/** A blade's width lies in the wheel's plane. */
export type Shape =
  | { readonly form: 'round'; readonly diameterMm: number }
  | { readonly form: 'oval'; readonly widthMm: number; readonly thicknessMm: number }
  | { readonly form: 'flat'; readonly widthMm: number; readonly thicknessMm: number }
  | { readonly form: 'tube'; readonly outerMm: number; readonly innerMm: number };
export interface Material {
  readonly name: string;
  readonly modulusGPa: number;
  readonly densityKgM3: number;
  /** Standard uncertainty of the modulus. */
  readonly uModulusPercent: number;
  /** Linear thermal expansion. */
  readonly expansionPerK: number;
  /** Standard uncertainty of the density beyond the 1 % that any catalogue mass has. Default 0. */
  readonly uDensityPercent?: number;
  /** In shear along the fibre. Default: of fibre composite by its density (`layerShear.ts`), of metal none. */
  readonly shearModulusGPa?: number;
}

/** A spoke at a known tension. `spare`: out of the wheel, with ends of its own; `inWheel`: one of the wheel's. */
export interface Calibration {
  readonly id: string;
  readonly kind: 'spare' | 'inWheel';
  readonly loadN: number;
  readonly uLoadN: number;
  /** Load cell, hung weights, a gauge. */
  readonly method: string;
  /** `inWheel`: which spoke, from 1. */
  readonly spoke?: number;
  /** `inWheel` without a pluck of its own: the round that heard the spoke at this tension. Absent: whichever is measured. */
  readonly roundId?: string;
  /** `spare`: kind and length between supports. */
  readonly kindId?: string;
  readonly supportLengthMm?: number;
  /** `spare`: standard uncertainty of that length. Default 0.5, a ruler's. */
  readonly uSupportLengthMm?: number;
  /** `spare`: what holds the thread end: a clamp where the nipple would begin, or its own nipple as in the wheel. Default `grip`. */
  readonly threadEnd?: 'grip' | 'nipple';
  readonly pluck?: Pluck;
  /** Further plucks under the same load. */
  readonly morePlucks?: readonly Pluck[];
}

/** One walk round the wheel. */
export interface Round {
  readonly id: string;
  readonly startedAt: string;
  readonly finishedAt?: string;
  readonly person?: string;
  readonly device?: string;
  readonly how: How;
  readonly state: WheelState;
  readonly order: RoundOrder;
  /** Where the walk began. Default 1. */
  readonly firstSpoke?: number;
  /** Plucks that must agree to settle a spoke. */
  readonly plucksToSettle: number;
  readonly plucks: readonly Pluck[];
  readonly skipped: readonly number[];
  readonly settings?: CaptureSettings;
}
export type RoundOrder = 'byPlace' | 'leftThenRight' | 'rightThenLeft' | 'free';

/** A pluck that the ear took, credited to one spoke. */
export interface Pluck {
  readonly id: string;
  readonly at: string;
  /** From 1. */
  readonly spoke: number;
  readonly how: How;
  readonly tones: readonly Tone[];
  readonly covarianceHz2: readonly (readonly number[])[];
  readonly hypotheses: readonly Hypothesis[];
  readonly flags: readonly HeardFlag[];
  /** The first spoke heard once more at the end of the round: drift, not evidence for the spoke. */
  readonly closing?: boolean;
  /** Put aside by the person, kept on file. */
  readonly putAside?: boolean;
  readonly recordingId?: string;
}
