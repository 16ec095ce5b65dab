import { type Newtons, newtons } from '../units.ts';
import type { DescribedSpoke } from './describeMember.ts';
import { type StateCorrection, sameState } from './limitVerdict.ts';
import { propagate } from './propagate.ts';
import type { Rim, SpokeKind, Wheel, WheelState } from './wheel.ts';

export type CorrectionRefusal = {
  readonly ok: false;
  readonly reason:
    | 'notLaced' // no rim is described
    | 'rimClassMissing'
    | 'rimMaterialUnknown'
    | 'tyreUnknown'
    | 'pressureDiffers' // both with tyre, at pressures that differ or are not said
    | 'temperatureMissing';
};

/**
 * Stiffness of the rim against being drawn together, E·A in newtons, by class. `common practice`: box sections of 60, 80 and 110 mm² in
 * aluminium (69 GPa); composite rims, deeper and of 80 GPa along the rim, half as much again. Classes are broad: 40 % standard
 * uncertainty.
 */
const RIM_AXIAL: Record<NonNullable<Rim['stiffnessClass']>, number> = { light: 4e6, medium: 5.5e6, stiff: 8e6 };
const COMPOSITE_FACTOR = 1.5;
const U_RIM_RELATIVE = 0.4;
/** Linear expansion along the rim, 1/K, with standard uncertainty. @source data sheets of the alloys; laminates from memory */
const RIM_EXPANSION: Record<Exclude<Rim['material'], 'unknown'>, { readonly value: number; readonly u: number }> = {
  aluminium: { value: 23.5e-6, u: 0.5e-6 },
  composite: { value: 2e-6, u: 2e-6 },
  steel: { value: 12e-6, u: 1e-6 },
};
const U_EXPANSION_SPOKE = 0.6e-6;
const U_TEMPERATURE_K = 0.5;
/** An inflated tyre takes 5 to 15 % off the tension of every spoke, uniform in between. `common practice`: measure it. */
const TYRE_DROP = { value: 0.1, u: 0.1 / Math.sqrt(12) };

/**
 * What a spoke's tension becomes in another state of its wheel.
 *
 * Temperature: spoke and rim expand differently; the mismatch pulls on the spoke's stiffness and the rim's in series, ΔT =
 * E A (α_rim − α_spoke) Δθ · k_r/(k_r + k_s), k_r = 2π E_r A_r/(n R). Tyre: a share of the tension, as broad as practice knows it.
 *
 * @param tension As heard, N.
 * @returns Shift to be added, with its standard uncertainty; or why there is none.
 * @source Thermal mismatch of members in series (from memory; any text on strength of materials); hoop stiffness of a ring, k = E A/R² per length
 * @validity All spokes of one temperature with the rim. A bound with the rim rigid is E A (α_rim − α_spoke) Δθ.
 */
export function stateCorrection(
  wheel: Wheel,
  spoke: DescribedSpoke,
  tension: Newtons,
  from: WheelState,
  to: WheelState,
): ({ readonly ok: true } & StateCorrection) | CorrectionRefusal {
  const { layout } = wheel;
  if (layout.kind !== 'laced') return { ok: false, reason: 'notLaced' };
  if (layout.rim.stiffnessClass === undefined) return { ok: false, reason: 'rimClassMissing' };
  const { material } = layout.rim;
  if (material === 'unknown') return { ok: false, reason: 'rimMaterialUnknown' };
  if (from.tyre === 'unknown' || to.tyre === 'unknown') return { ok: false, reason: 'tyreUnknown' };
  if (
    from.tyre === 'on' &&
    to.tyre === 'on' &&
    !sameState(from, { tyre: 'on', ...(to.pressureBar === undefined ? {} : { pressureBar: to.pressureBar }) })
  )
    return { ok: false, reason: 'pressureDiffers' };
  if (to.temperatureC !== undefined && from.temperatureC === undefined)
    return { ok: false, reason: 'temperatureMissing' };
  const warmer = to.temperatureC === undefined ? 0 : to.temperatureC - (from.temperatureC ?? to.temperatureC);
  const { stiffness, expansion } = spokeAxial(spoke, wheel.kinds[spoke.kindId]);
  const length = spoke.lengths.support;
  const radius = layout.rim.effectiveDiameterMm / 2000;
  const rimAxial = RIM_AXIAL[layout.rim.stiffnessClass] * (material === 'composite' ? COMPOSITE_FACTOR : 1);
  const tyre = from.tyre === to.tyre ? 0 : from.tyre === 'on' ? 1 : -1;
  const result = propagate(
    ([alphaRim = 0, alphaSpoke = 0, theta = 0, axial = 0, drop = 0]) => {
      const rim = (2 * Math.PI * axial) / (layout.spokeCount * radius);
      const thermal = stiffness * length * (alphaRim - alphaSpoke) * theta * (rim / (rim + stiffness));
      const tyreShift = tyre > 0 ? tension * (1 / (1 - drop) - 1) : tyre < 0 ? -tension * drop : 0;
      return [thermal + tyreShift];
    },
    [
      RIM_EXPANSION[material],
      { value: expansion, u: U_EXPANSION_SPOKE },
      { value: warmer, u: warmer === 0 ? 0 : U_TEMPERATURE_K },
      { value: rimAxial, u: U_RIM_RELATIVE * rimAxial },
      tyre === 0 ? { value: 0, u: 0 } : TYRE_DROP,
    ],
  );
  return { ok: true, shift: newtons(result.values[0] ?? 0), u: newtons(result.u[0] ?? 0) };
}

/** Stiffness along the spoke, its pieces in series, N/m, and its mean expansion, 1/K. */
function spokeAxial(
  spoke: DescribedSpoke,
  kind: SpokeKind | undefined,
): { readonly stiffness: number; readonly expansion: number } {
  const { sections } = spoke.described.member;
  const compliance = sections.reduce((sum, section) => sum + section.length / section.axial, 0);
  const pieces = (kind?.sections ?? []).map((section, i) => {
    const length = sections[i]?.length ?? 0;
    // Bonded layers expand together, each pulling with its own stiffness: the stiffest leads.
    const lead = section.layers.toSorted((a, b) => b.material.modulusGPa - a.material.modulusGPa)[0];
    return { length, expansion: lead?.material.expansionPerK ?? 0 };
  });
  const total = pieces.reduce((sum, piece) => sum + piece.length, 0);
  return {
    stiffness: 1 / compliance,
    expansion: total === 0 ? 0 : pieces.reduce((sum, piece) => sum + piece.length * piece.expansion, 0) / total,
  };
}
