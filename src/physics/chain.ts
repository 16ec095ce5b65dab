import { elementStiffness } from './elementStiffness.ts';
import { type ShearedWaves, shearedWaves } from './shearedElement.ts';

/** A row of uniform pieces in one plane, with what holds it: plain numbers in SI, made by `chainOf`. */
export interface ChainSpec {
  readonly lengths: readonly number[];
  readonly masses: readonly number[];
  readonly bendings: readonly number[];
  /** 1/(κGA), 1/N; 0: none. */
  readonly shearCompliances: readonly number[];
  /** Rotational stiffness, N·m/rad, 0..Infinity. */
  readonly hubEnd: number;
  readonly rimEnd: number;
  /** Transverse support at the node after this many pieces. `stiffness` N/m, Infinity = rigid. */
  readonly support?: { readonly afterPiece: number; readonly stiffness: number };
}

/** Condensed stiffness of everything on one side of a node, in that node's (v, θ), θ being the turn of the section. */
interface Node {
  vv: number;
  vt: number;
  tt: number;
}

/** Keeps determinants of long chains within the range of doubles; a constant factor does not move a root. */
const PIVOT_SCALE = 1e-6;
const waves: ShearedWaves = { alpha: 0, beta: 0, p: 0, q: 0 };

/**
 * The dynamic stiffness of a chain, eliminated node by node from the hub: pivots give both the Wittrick–Williams count and a
 * determinant without poles.
 *
 * Method: each piece is cut into equal parts with βl < π, so that no part has a clamped mode below the frequency asked for; then the
 * number of natural frequencies below ω is the number of negative pivots of the assembled matrix, and their product is smooth in ω.
 * @source Wittrick & Williams, Quarterly Journal of Mechanics and Applied Mathematics 24 (1971), 263–284
 */
export class Chain {
  /** Natural frequencies below the ω of the last `evaluate`. */
  count = 0;
  private readonly element = new Float64Array(6);
  private readonly parts: Uint16Array;
  private readonly node: Node = { vv: 0, vt: 0, tt: 0 };
  private held = true;
  private spring = 0;
  private determinant = 1;
  readonly lengths: Float64Array;
  readonly masses: Float64Array;
  readonly bendings: Float64Array;
  readonly shearCompliances: Float64Array;
  hubEnd: number;
  rimEnd: number;
  supportAt: number;
  supportStiffness: number;
  /** Transverse compliance of the rim's support, m/N; 0 = unyielding. */
  rimGive = 0;

  constructor(spec: ChainSpec) {
    this.lengths = Float64Array.from(spec.lengths);
    this.masses = Float64Array.from(spec.masses);
    this.bendings = Float64Array.from(spec.bendings);
    this.shearCompliances = Float64Array.from(spec.shearCompliances);
    this.hubEnd = spec.hubEnd;
    this.rimEnd = spec.rimEnd;
    this.supportAt = spec.support?.afterPiece ?? -1;
    this.supportStiffness = spec.support?.stiffness ?? 0;
    this.parts = new Uint16Array(this.lengths.length).fill(1);
  }

  /** Fixes how each piece is cut, so that determinants up to `omegaMax` are comparable. */
  subdivide(omegaMax: number, tension: number): void {
    for (let i = 0; i < this.lengths.length; i++) {
      const inertia = (this.masses[i] as number) * omegaMax * omegaMax;
      shearedWaves(inertia, this.bendings[i] as number, tension, this.shearCompliances[i] as number, waves);
      this.parts[i] = 1 + Math.floor((waves.beta * (this.lengths[i] as number)) / (0.97 * Math.PI));
    }
  }

  /**
   * Determinant of the dynamic stiffness at ω (scaled by a constant); `count` is set beside.
   * @param omega rad/s, > 0 and not above the `omegaMax` of the last `subdivide`
   * @param tension N, ≥ 0
   */
  evaluate(omega: number, tension: number): number {
    this.begin(this.hubEnd);
    const pieces = this.lengths.length;
    for (let i = 0; i < pieces; i++) {
      if (i === this.supportAt) this.support(this.supportStiffness);
      this.piece(i, omega, tension);
    }
    const { vv, vt, tt } = this.node;
    const clamped = this.rimEnd === Number.POSITIVE_INFINITY;
    const turning = clamped ? 1 : (this.held ? this.spring : tt) + this.rimEnd;
    if (this.rimGive === 0) {
      if (!clamped) this.pivot(turning, 1);
    } else {
      const moving = 1 + this.rimGive * vv;
      this.pivot(moving, 1);
      this.pivot(clamped ? 1 : turning - (this.rimGive * vt * vt) / moving, 1);
    }
    return this.determinant;
  }

  /** Condenses the whole chain to the (v, θ) of its last node, left free: for joining chains. */
  condense(omega: number, tension: number): Readonly<Node> & { readonly determinant: number } {
    this.begin(this.hubEnd);
    for (let i = 0; i < this.lengths.length; i++) this.piece(i, omega, tension);
    return { ...this.node, determinant: this.determinant };
  }

  private begin(spring: number): void {
    this.count = 0;
    this.determinant = 1;
    this.held = true;
    this.spring = spring;
  }

  private support(stiffness: number): void {
    if (stiffness === Number.POSITIVE_INFINITY) {
      this.held = true;
      this.spring = this.node.tt;
    } else this.node.vv += stiffness;
  }

  private pivot(value: number, scale: number): void {
    if (value < 0) this.count++;
    this.determinant *= value * scale;
  }

  private piece(i: number, omega: number, tension: number): void {
    const parts = this.parts[i] as number;
    const k = this.element;
    elementStiffness(
      k,
      (this.lengths[i] as number) / parts,
      this.masses[i] as number,
      this.bendings[i] as number,
      tension,
      omega,
      this.shearCompliances[i] as number,
    );
    const k11 = k[0] as number;
    const k12 = k[1] as number;
    const k13 = k[2] as number;
    const k14 = k[3] as number;
    const k22 = k[4] as number;
    const k24 = k[5] as number;
    const node = this.node;
    for (let p = 0; p < parts; p++) {
      if (this.held) {
        this.held = false;
        if (this.spring === Number.POSITIVE_INFINITY) {
          node.vv = k11;
          node.vt = -k12;
          node.tt = k22;
        } else {
          const pivot = k22 + this.spring;
          this.pivot(pivot, 1);
          node.vv = k11 - (k14 * k14) / pivot;
          node.vt = -k12 + (k14 * k24) / pivot;
          node.tt = k22 - (k24 * k24) / pivot;
        }
      } else {
        const vv = node.vv + k11;
        const vt = node.vt + k12;
        const tt = node.tt + k22;
        const second = tt - (vt * vt) / vv;
        this.pivot(vv, PIVOT_SCALE);
        this.pivot(second, 1);
        // K_RR − K_RL · A⁻¹ · K_LR with columns (k13, −k14) for v2 and (k14, k24) for θ2
        const i22 = 1 / second;
        const i12 = (-vt * i22) / vv;
        const i11 = (1 - vt * i12) / vv;
        const pv = i11 * k13 - i12 * k14;
        const pt = i12 * k13 - i22 * k14;
        const qv = i11 * k14 + i12 * k24;
        const qt = i12 * k14 + i22 * k24;
        node.vv = k11 - (k13 * pv - k14 * pt);
        node.vt = -k12 - (k13 * qv - k14 * qt);
        node.tt = k22 - (k14 * qv + k24 * qt);
      }
    }
  }
}
