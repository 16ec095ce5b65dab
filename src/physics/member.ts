import type { KilogramsPerMetre, Metres, NewtonMetresPerRadian, NewtonMetresSquared, Newtons } from '../units.ts';

/** A uniform piece of the member. Bending `inPlane` moves along the rim (in the wheel's plane), `across` along the axle. */
export interface Section {
  readonly length: Metres;
  readonly massPerLength: KilogramsPerMetre;
  readonly bendingInPlane: NewtonMetresSquared;
  readonly bendingAcross: NewtonMetresSquared;
  /** E·A, the force at unit strain. */
  readonly axial: Newtons;
  /** Shear stiffness κGA, N, the same in both planes; absent: it does not shear (Euler–Bernoulli), as metal is taken. */
  readonly shear?: Newtons;
}

/**
 * What rings: pieces in a row from the hub's support to the rim's support, perhaps touched by another spoke in between.
 * Lengths are those under tension.
 */
export interface Member {
  /** From hub to rim. */
  readonly sections: readonly Section[];
  /** Distance of the outermost touching crossing from the hub's support; absent where no spoke touches. */
  readonly crossingFromHub?: Metres;
  readonly weighed?: Weighing;
}

/** Power of its mass with which the bending of a piece grows that is thicker, or fuller, than thought. @source I ∝ A² at a like outline */
export const BENDS = 2;
/** The longest section's mass was found by weighing the whole: what a neighbour gains at their border, it loses. */
export interface Weighing {
  /** So many sections, from the hub, lay on the scale: not the nipple. */
  readonly sections: number;
  /** Its bending goes with the square of its mass: what weighing tells is a thickness or an outline, not a density. */
  readonly bends: boolean;
}

/** Rotational stiffness of one support in the two planes. 0 = pinned, Infinity = clamped. */
export interface EndStiffness {
  readonly inPlane: NewtonMetresPerRadian;
  readonly across: NewtonMetresPerRadian;
}
export interface Ends {
  readonly hub: EndStiffness;
  readonly rim: EndStiffness;
}

/** What is believed of one support before a tone is heard: log-uniform between two stiffnesses. */
export interface EndPrior {
  readonly low: NewtonMetresPerRadian;
  readonly high: NewtonMetresPerRadian;
}

/** Standard uncertainties of the description; each is one draw for all spokes of a side unless said otherwise. */
export interface MemberUncertainty {
  /** Relative, of mass per length. */
  readonly massRelative: number;
  readonly length: Metres;
  readonly crossing: Metres;
  /** Where one piece of the spoke ends and the next begins, the whole length kept; absent: 1.5 mm. */
  readonly sections?: Metres;
  /** Relative, of bending stiffness. */
  readonly stiffnessRelative: number;
}

/** A member as the person described it, with how sure each figure is. */
export interface DescribedMember {
  readonly member: Member;
  readonly uncertainty: MemberUncertainty;
  /** Absent: the broad prior of the room (nearly pinned to nearly clamped; no published value exists). */
  readonly endPrior?: { readonly hub?: EndPrior; readonly rim?: EndPrior };
}
