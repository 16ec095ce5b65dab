import type { Plane } from '../contract.ts';
import { newtonMetresPerRadian } from '../units.ts';
import { Chain } from './chain.ts';
import { chainOf } from './chainOf.ts';
import { BENDS, type Member, type Weighing } from './member.ts';
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
  /** The pieces beyond which the longest section begins and ends: its borders with its neighbours. */
  private readonly longestFrom: number;
  private readonly longestTo: number;
  private readonly weighed: Weighing | undefined;
  private readonly shears: boolean;
  /** The first piece that was not on the scale. */
  private readonly unweighed: number;

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
    [this.longestFrom, this.longestTo] = bordersOf(member, spec.lengths);
    this.weighed = member.weighed;
    this.shears = spec.shearCompliances.some((compliance) => compliance > 0);
    this.unweighed = spec.lengths.length - member.sections.length + (member.weighed?.sections ?? 0);
  }

  /** ∂ln ω per metre by which the border after a piece lies nearer the rim; 0 at the member's own ends. */
  private bound(before: number, perLnOmega: number, D: () => number): number {
    const { lengths } = this.chain;
    if (before < 0 || before >= lengths.length - 1) return 0;
    const [a, b] = [lengths[before] as number, lengths[before + 1] as number];
    const step = RELATIVE * Math.min(a, b);
    const shifted = (s: number): number => {
      lengths[before] = a + s;
      lengths[before + 1] = b - s;
      return D();
    };
    const change = shifted(step) - shifted(-step);
    lengths[before] = a;
    lengths[before + 1] = b;
    return -change / (2 * step) / perLnOmega;
  }

  /** The same of a border of the longest section; where the whole was weighed, that section loses the mass that its neighbour gains. */
  private border(before: number, perLnOmega: number, D: () => number): number {
    const alone = this.bound(before, perLnOmega, D);
    if (this.weighed === undefined || before < 0 || before + 1 >= this.unweighed) return alone;
    const { lengths, masses, bendings } = this.chain;
    const [from, to] = [this.longestFrom + 1, this.longestTo + 1];
    const gained = (masses[before] as number) - (masses[before + 1] as number);
    const perMetre = -gained / ((masses[from] as number) * sum(lengths.subarray(from, to)));
    const perMass = this.relative(masses, from, to, perLnOmega, D);
    const perBending = this.weighed.bends ? BENDS * this.relative(bendings, from, to, perLnOmega, D) : 0;
    return alone + perMetre * (perMass + perBending);
  }

  /** ∂ln ω/∂ln of some pieces' figures together. */
  private relative(array: Float64Array, from: number, to: number, perLnOmega: number, D: () => number): number {
    const kept = array.slice(from, to);
    const shifted = (factor: number): number => {
      for (let i = from; i < to; i++) array[i] = (kept[i - from] as number) * factor;
      return D();
    };
    const change = shifted(1 + RELATIVE) - shifted(1 - RELATIVE);
    array.set(kept, from);
    return -change / (2 * RELATIVE) / perLnOmega;
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
    const relative = (array: Float64Array, from: number, to: number): number =>
      this.relative(array, from, to, perLnOmega, D);
    const { lengths, masses, bendings, shearCompliances } = chain;
    const pieces = lengths.length;
    const lengthAt = lengths[this.lastPiece] as number;
    out[at] = relative(lengths, this.lastPiece, this.lastPiece + 1) / lengthAt;
    out[at + 2] = relative(bendings, 0, pieces);
    const crossed = chain.supportAt >= 0;
    out[at + 1] = 0;
    if (crossed) out[at + 1] = this.bound(this.supportPiece - 1, perLnOmega, D);
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
    out[at + 6] = this.border(this.longestFrom, perLnOmega, D);
    out[at + 7] = this.border(this.longestTo, perLnOmega, D);
    chain.rimGive = GIVE;
    const given = D();
    chain.rimGive = -GIVE;
    out[at + 8] = -(given - D()) / (2 * GIVE) / perLnOmega;
    chain.rimGive = 0;
    out[at + 9] = this.shears ? relative(shearCompliances, 0, pieces) : 0;
    // Rayleigh: ∂ln ω/∂ln µ of a part is −½ of its share of the kinetic energy.
    out[at + 10] = crossed ? -2 * relative(masses, this.supportPiece, pieces) : 1;
  }
}

const sum = (values: Float64Array): number => values.reduce((a, b) => a + b, 0);

/** The last piece before the longest section, and that section's own last piece: a crossing may have cut it in two. */
const bordersOf = (member: Member, lengths: readonly number[]): [number, number] => {
  const { sections } = member;
  const longest = sections.reduce((best, s, i) => (s.length > (sections[best]?.length ?? 0) ? i : best), 0);
  const from = sections.slice(0, longest).reduce((sum, s) => sum + s.length, 0);
  const to = from + (sections[longest]?.length ?? 0);
  const pieceEndingAt = (place: number): number => {
    let at = 0;
    return lengths.findIndex((length) => {
      at += length;
      return Math.abs(at - place) < NEAR;
    });
  };
  return [pieceEndingAt(from), pieceEndingAt(to)];
};
/** Two places nearer than this are the same, m. */
const NEAR = 1e-8;
