import { round } from './catalogue.ts';
import { seededRandom } from './random.ts';
import type { WheelSpoke } from './round.ts';

export interface UniformWheelSettings {
  readonly seed: string | number;
  readonly spokeCount: number;
  /** Nominal tension of each side; spokes scatter by `scatter` (relative standard deviation). */
  readonly leftN: number;
  readonly rightN: number;
  readonly scatter?: number;
  readonly supportLengthM?: { readonly left: number; readonly right: number };
  /** Crossing distance from the hub's support; absent = nothing touches. */
  readonly crossingFromHubM?: { readonly left: number; readonly right: number };
  readonly wireMm?: number;
  /** Rotational stiffness of every hub and rim end, both planes, N·m/rad; Infinity = clamped. */
  readonly hubSpring?: number;
  readonly rimSpring?: number;
  /** Tensions of single spokes (from 1), N, in place of the drawn ones. */
  readonly set?: Readonly<Record<number, number>>;
}

/** A wheel of plain round steel wire (E 193 GPa, 7900 kg/m³), left and right in turn, spoke 1 left: one uniform piece from support to support. */
export function uniformWheel(settings: UniformWheelSettings): WheelSpoke[] {
  const random = seededRandom(`uniform|${settings.seed}`);
  const { wireMm = 2, hubSpring = 20, rimSpring = 20, scatter = 0.03 } = settings;
  return Array.from({ length: settings.spokeCount }, (_, k): WheelSpoke => {
    const side = k % 2 === 0 ? 'left' : 'right';
    const nominal = side === 'left' ? settings.leftN : settings.rightN;
    const tensionN = settings.set?.[k + 1] ?? nominal * (1 + random.normal(0, scatter));
    const crossing = settings.crossingFromHubM?.[side];
    return {
      side,
      kind: 'plain2.0',
      pieces: [round(wireMm, 'steel', settings.supportLengthM?.[side] ?? 0.28)],
      tensionN,
      hub: { inPlane: hubSpring, across: hubSpring },
      rim: { inPlane: rimSpring, across: rimSpring },
      ...(crossing === undefined ? {} : { crossingFromHubM: crossing }),
    };
  });
}
