import type { Plane } from '../contract.ts';
import { Chain } from './chain.ts';
import { piecesOf } from './chainOf.ts';
import type { Countable } from './findModes.ts';
import type { Ends, Member } from './member.ts';

/**
 * Two members tied at their crossing: they share the displacement there and keep their own slopes.
 *
 * Method: all four arms are condensed to the crossing; the joined node has the degrees of freedom (v, θ₁, θ₂). Counting as in `Chain`.
 * @source Wittrick & Williams, Q. J. Mech. Appl. Math. 24 (1971), 263
 */
export class PairChain implements Countable {
  count = 0;
  private readonly own: readonly [Chain, Chain];
  private readonly other: readonly [Chain, Chain];
  private readonly partnerTension: number;

  /** @throws RangeError if one of the two has no crossing */
  constructor(member: Member, ends: Ends, partner: Member, partnerEnds: Ends, partnerTension: number, plane: Plane) {
    this.own = arms(member, ends, plane);
    this.other = arms(partner, partnerEnds, plane);
    this.partnerTension = partnerTension;
  }

  subdivide(omegaMax: number, tension: number): void {
    for (const arm of this.own) arm.subdivide(omegaMax, tension);
    for (const arm of this.other) arm.subdivide(omegaMax, this.partnerTension);
  }

  evaluate(omega: number, tension: number): number {
    this.count = 0;
    let determinant = 1;
    let vv = 0;
    for (const [pair, t] of [
      [this.own, tension],
      [this.other, this.partnerTension],
    ] as const) {
      const hub = pair[0].condense(omega, t);
      const rim = pair[1].condense(omega, t);
      this.count += pair[0].count + pair[1].count;
      // The rim's arm runs the other way: its slope counts negative.
      const vt = hub.vt - rim.vt;
      const tt = hub.tt + rim.tt;
      vv += hub.vv + rim.vv - (vt * vt) / tt;
      if (tt < 0) this.count++;
      determinant *= hub.determinant * rim.determinant * tt;
    }
    if (vv < 0) this.count++;
    return determinant * vv * 1e-6;
  }
}

const arms = (member: Member, ends: Ends, plane: Plane): [Chain, Chain] => {
  if (member.crossingFromHub === undefined)
    throw new RangeError('crossingFromHub is absent, expected both members of a pair to have a crossing');
  const { lengths, masses, bendings, shearCompliances, cutPiece } = piecesOf(member, plane, member.crossingFromHub);
  const hub = new Chain({
    lengths: lengths.slice(0, cutPiece),
    masses: masses.slice(0, cutPiece),
    bendings: bendings.slice(0, cutPiece),
    shearCompliances: shearCompliances.slice(0, cutPiece),
    hubEnd: ends.hub[plane],
    rimEnd: 0,
  });
  const rim = new Chain({
    lengths: lengths.slice(cutPiece).reverse(),
    masses: masses.slice(cutPiece).reverse(),
    bendings: bendings.slice(cutPiece).reverse(),
    shearCompliances: shearCompliances.slice(cutPiece).reverse(),
    hubEnd: ends.rim[plane],
    rimEnd: 0,
  });
  return [hub, rim];
};
