import type { Plane } from '../contract.ts';
import { newtonMetresPerRadian } from '../units.ts';
import { Chain } from './chain.ts';
import { chainOf } from './chainOf.ts';
import type { Member } from './member.ts';
import type { TableOptions } from './toneTable.ts';

/** Relative step of the differences. */
const RELATIVE = 1e-4;
/** Trial compliance of the rim's support, m/N: small against any member's own. */
const GIVE = 1e-11;

/** The chain with knobs for every input, and implicit derivatives of its roots. */
export class RootProbe {
  readonly chain: Chain;
  private readonly lastPiece: number;
  private readonly supportPiece: number;

  constructor(
    member: Member,
    plane: Plane,
    private readonly options: TableOptions,
  ) {
    const end = (k: number) => ({ inPlane: newtonMetresPerRadian(k), across: newtonMetresPerRadian(k) });
    const support = options.support === 'hubAxis' ? 1 : options.support;
    const spec = chainOf(member, { hub: end(options.hubEnd ?? 1), rim: end(1) }, plane, support);
    this.chain = new Chain(spec);
    this.supportPiece = spec.support?.afterPiece ?? 0;
    // A length error lengthens the longest piece beyond the crossing.
    let longest = this.supportPiece;
    for (let i = longest; i < spec.lengths.length; i++)
      if ((spec.lengths[i] as number) > (spec.lengths[longest] as number)) longest = i;
    this.lastPiece = longest;
  }

  set(first: number, rim: number): void {
    if (this.options.support === 'hubAxis') this.chain.supportStiffness = first;
    else this.chain.hubEnd = first;
    this.chain.rimEnd = rim;
  }

  /** Writes ∂ln ω/∂input for all `INPUTS` and the energy share: dω = −(∂D/∂input)/(∂D/∂ω). */
  derive(omega: number, tension: number, out: Float64Array, at: number): void {
    const { chain } = this;
    const D = (): number => chain.evaluate(omega, tension);
    const perLnOmega =
      (chain.evaluate(omega * (1 + RELATIVE), tension) - chain.evaluate(omega * (1 - RELATIVE), tension)) /
      (2 * RELATIVE);
    const relative = (array: Float64Array, from: number, to: number): number => {
      const kept = array.slice(from, to);
      const shifted = (factor: number): number => {
        for (let i = from; i < to; i++) array[i] = (kept[i - from] as number) * factor;
        return D();
      };
      const change = shifted(1 + RELATIVE) - shifted(1 - RELATIVE);
      array.set(kept, from);
      return -change / (2 * RELATIVE) / perLnOmega;
    };
    const { lengths, masses, bendings } = chain;
    const pieces = lengths.length;
    const lengthAt = lengths[this.lastPiece] as number;
    out[at] = relative(lengths, this.lastPiece, this.lastPiece + 1) / lengthAt;
    out[at + 2] = relative(bendings, 0, pieces);
    const crossed = chain.supportAt >= 0;
    out[at + 1] = 0;
    if (crossed) {
      const before = this.supportPiece - 1;
      const after = this.supportPiece;
      const [a, b] = [lengths[before] as number, lengths[after] as number];
      const step = RELATIVE * Math.min(a, b);
      const shifted = (s: number): number => {
        lengths[before] = a + s;
        lengths[after] = b - s;
        return D();
      };
      out[at + 1] = -(shifted(step) - shifted(-step)) / (2 * step) / perLnOmega;
      lengths[before] = a;
      lengths[after] = b;
    }
    const knob = (name: 'supportStiffness' | 'hubEnd' | 'rimEnd'): number => {
      const kept = chain[name];
      chain[name] = kept * (1 + RELATIVE);
      const up = D();
      chain[name] = kept * (1 - RELATIVE);
      const down = D();
      chain[name] = kept;
      return -(up - down) / (2 * RELATIVE) / perLnOmega;
    };
    const grip = this.options.support === 'hubAxis';
    out[at + 3] = grip ? knob('hubEnd') : crossed ? knob('supportStiffness') : 0;
    out[at + 4] = knob(grip ? 'supportStiffness' : 'hubEnd');
    out[at + 5] = knob('rimEnd');
    chain.rimGive = GIVE;
    const given = D();
    chain.rimGive = -GIVE;
    out[at + 6] = -(given - D()) / (2 * GIVE) / perLnOmega;
    chain.rimGive = 0;
    // Rayleigh: ∂ln ω/∂ln µ of a part is −½ of its share of the kinetic energy.
    out[at + 7] = crossed ? -2 * relative(masses, this.supportPiece, pieces) : 1;
  }
}
